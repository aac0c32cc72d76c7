/** The places of the program, in the order of the navigation. A place stands here once it works. */
export const PLACES = [
  { path: '/', name: 'Explore' },
  { path: '/change', name: 'Change' },
  { path: '/compare', name: 'Compare' },
  { path: '/arrange', name: 'Arrange' },
  { path: '/practice', name: 'Practice' },
  { path: '/bench', name: 'Bench' },
] as const;
