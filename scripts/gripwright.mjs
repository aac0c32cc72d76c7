// npm run -s gripwright -- …: builds the command line when its sources are newer, then runs it in
// the caller's folder. Standard output carries only what the command line prints.
import { pathToFileURL } from 'node:url';
import { ensureBundle } from './lib/build.mjs';
import { ensureInstalled } from './lib/install.mjs';

await ensureInstalled();
const bundle = await ensureBundle('gripwright');

// npm runs scripts in the project's folder and says in INIT_CWD where it was called; paths on the
// command line are meant from there. (A script run by another script inherits INIT_CWD, hence
// the first question.)
const { npm_lifecycle_event: script, INIT_CWD: callersFolder } = process.env;
if (script === 'gripwright' && callersFolder) process.chdir(callersFolder);

process.argv[1] = bundle;
await import(pathToFileURL(bundle).href);
