/** The whole program runs in the browser; every page is a static file. */
export const prerender = true;
export const trailingSlash = 'always';
