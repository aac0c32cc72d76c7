// node scripts/serve.mjs --port N: serves the site that is already in build/. The browser tests
// use it; `npm start` is for people.
import { existsSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { inRoot } from './lib/root.mjs';
import { giveUp } from './lib/say.mjs';
import { serve, stopOnSignal, whyNot } from './lib/serve.mjs';

const { values } = parseArgs({ options: { port: { type: 'string', default: '4317' } } });
if (!existsSync(inRoot('build', 'index.html'))) {
  giveUp('There is no site in build/ to serve; make one with "npm run build" first.');
}
try {
  stopOnSignal(await serve(inRoot('build'), Number(values.port)));
  console.log(`Serving build/ at http://127.0.0.1:${values.port}/`);
} catch (error) {
  giveUp(whyNot(error, values.port));
}
