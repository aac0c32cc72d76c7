/** What the page says to a newer version that waits: the service worker hears it. */
export const TAKE_OVER = 'take over';
