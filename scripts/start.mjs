// npm start: makes sure all is installed and built, then serves the site on this machine.
import { ensureApp } from './lib/build.mjs';
import { ensureInstalled } from './lib/install.mjs';
import { inRoot } from './lib/root.mjs';
import { giveUp, say } from './lib/say.mjs';

const FIRST_PORT = 4310;

const asked = process.env.PORT;
if (asked && !isPort(Number(asked))) {
  giveUp(`PORT is "${asked}", but a port is a whole number from 1 to 65535.`);
}
await ensureInstalled();
// what serves is a package, which is there only now on a new machine
const { serve, serveOnFreePort, stopOnSignal, whyNot } = await import('./lib/serve.mjs');
await ensureApp();
const { server, port } = await open();
stopOnSignal(server);
say('Press Ctrl-C to stop.');
console.log(`Gripwright is ready at http://127.0.0.1:${port}/`);

async function open() {
  try {
    if (!asked) return await serveOnFreePort(inRoot('build'), FIRST_PORT);
    return { server: await serve(inRoot('build'), Number(asked)), port: asked };
  } catch (error) {
    giveUp(whyNot(error, asked || FIRST_PORT));
  }
}

function isPort(/** @type {number} */ port) {
  return Number.isInteger(port) && port >= 1 && port <= 65535;
}
