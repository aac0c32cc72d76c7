import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The folder that holds package.json. */
export const root = fileURLToPath(new URL('../../', import.meta.url));

/** A path inside the project, from its parts. @param {...string} parts */
export const inRoot = (...parts) => join(root, ...parts);
