/** The cautions of the trade that go with every figure about strings: on the page, on paper, in a terminal. */
export const STRING_CAUTIONS = [
  'A steel string under tension can break without warning and whip towards the face: wear eye protection when fitting, tuning up or re-rigging, slacken before cutting, and keep faces away from the line of the string.',
  'Figures for breaking and load are estimates from handbook values for new, undamaged wire. The maker’s limits for the instrument, and a qualified instrument technician for structural work, come first.',
] as const;
