/** A chart as a player might type it: a small instrument of our own, with a doubt or two to settle. */
export const EXAMPLE_CHART = `Shed-built eight, E6
      P1   P2   LKL  RKR
1 E   -    F#   -    Eb
2 C#  D    -    -    -
3 B   -    C#   -    A#
4 G#  A    -    -    -
5 E   -    -    F    Eb
6 C#  D    -    -    -
7 B   -    -    -    -
8 E   -    -    -    -
`;
