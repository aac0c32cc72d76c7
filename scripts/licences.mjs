// npm run licences: writes static/licences.txt, which goes with the built program.
import { writeFileSync } from 'node:fs';
import { ensureInstalled } from './lib/install.mjs';
import { ALLOWED, licencesText, packages } from './lib/licences.mjs';
import { inRoot } from './lib/root.mjs';
import { giveUp } from './lib/say.mjs';

await ensureInstalled();
const odd = packages().filter(({ licence }) => !ALLOWED.includes(licence));
if (odd.length > 0)
  giveUp(`Not allowed here: ${odd.map(({ name, licence }) => `${name} (${licence})`).join(', ')}.`);
writeFileSync(inRoot('static', 'licences.txt'), licencesText());
