/** The program without a network, on a site of its own: every place of it. */
import { PLACES } from '../places';
import { expectWorkingAlone, siteTest as test } from '../site';

test('after the first visit every place is there with the network cut', async ({
  page,
  site,
  trouble,
}) => {
  await expectWorkingAlone({ page, site, trouble }, PLACES);
});
