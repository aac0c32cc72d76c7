import adapter from '@sveltejs/adapter-static';

/** @type {import('@sveltejs/kit').Config} */
export default {
  kit: {
    adapter: adapter({ pages: 'build', assets: 'build', fallback: '404.html', strict: true }),
    // Relative paths let the built folder be served from any place on a site.
    paths: { relative: true },
    version: { name: process.env.npm_package_version ?? 'dev' },
  },
  compilerOptions: { runes: true },
};
