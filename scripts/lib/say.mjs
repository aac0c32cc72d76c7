// Everything the scripts tell the person at the keyboard goes through here. It is written to
// standard error, so that standard output stays free for what a program itself prints.

/** Says what is being done, or what went wrong, in a full sentence. @param {string} text */
export function say(text) {
  process.stderr.write(`gripwright: ${text}\n`);
}

/** Says why nothing more can be done and ends with exit code 1. @param {string} text @returns {never} */
export function giveUp(text) {
  say(text);
  process.exit(1);
}
