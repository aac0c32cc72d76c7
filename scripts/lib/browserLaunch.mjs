// How every test starts its browser: Playwright's tests of the page, and vitest's of the sound.
import { existsSync } from 'node:fs';

/** Debian's browsers, the quickest first: the shell has no window, so nothing is drawn around a page. */
const DEBIANS = ['/usr/bin/chromium-headless-shell', '/usr/bin/chromium'];

/** The Chromium that `npm test` found; Debian's where a runner is called by hand. */
const chromium = process.env.GRIPWRIGHT_CHROMIUM || DEBIANS.find((path) => existsSync(path));

/**
 * What Playwright 1.65 switches off by itself. Chromium heeds the last list it is given, so whoever
 * adds to the list has to repeat it.
 */
const PLAYWRIGHTS = [
  'AvoidUnnecessaryBeforeUnloadCheckSync',
  'DestroyProfileOnBrowserClose',
  'HttpsUpgrades',
  'HttpsFirstBalancedModeAutoEnable',
  'LensOverlay',
  'MediaRouter',
  'PaintHolding',
  'ThirdPartyStoragePartitioning',
  'AvoidCorsURLLoaderRestartOnRedirect',
  'TcpPortRandomizationWin',
  'OptimizationHints',
  'NetworkTimeServiceQuerying',
  'AimEnabled',
  'PreconnectToSearch',
  'msForceBrowserSignIn',
  'msEdgeUpdateLaunchServicesPreferredVersion',
];

/** Lists under the address field, for each of which a whole browser keeps a page of its own ready. */
const OMNIBOXES = ['WebUIOmniboxPopup', 'WebUIOmniboxAimPopup', 'WebUIOmniboxFullPopup'];

/**
 * The options of a launch, `more` arguments among them.
 *
 * @param {string[]} more
 */
export function browserLaunch(...more) {
  return {
    ...(chromium === undefined ? {} : { executablePath: chromium }),
    args: [
      '--no-sandbox',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      // the shell would fit letters to whole pixels, on paper too
      '--font-render-hinting=none',
      `--disable-features=${[...PLAYWRIGHTS, ...OMNIBOXES].join(',')}`,
      ...more,
    ],
  };
}
