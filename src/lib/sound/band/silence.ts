/** The library says its name in the console when it is loaded, unless it is asked not to. Import this first. */
Object.assign(globalThis, { TONE_SILENCE_LOGGING: true });
