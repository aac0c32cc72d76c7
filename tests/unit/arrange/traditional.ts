/** Ten traditional tunes and songs long out of copyright, set down from memory; the first strain of each. */
export const TRADITIONAL: Readonly<Record<string, string>> = {
  'Amazing Grace': `X:1
T:Amazing Grace
M:3/4
L:1/4
Q:1/4=90
K:G
D | "G"G2 B/G/ | B2 A | "C"G2 E | "G"D2 D | G2 B/G/ | B2 A | "D7"d3- | d2 B |
"G"d2 B/G/ | B2 A | "C"G2 E | "G"D2 D | G2 B/G/ | "D7"B2 A | "G"G3- | G2 |]`,
  'Auld Lang Syne': `X:1
T:Auld Lang Syne
M:4/4
L:1/4
Q:1/4=100
K:F
C | "F"F3/2 F/ F A | "C7"G3/2 F/ G A | "F"F3/2 F/ A c | "Bb"d3 d | "F"c3/2 A/ A F | "C7"G3/2 F/ G A | "Bb"F3/2 D/ "C7"D C | "F"F3 |]`,
  'Oh, Susanna': `X:1
T:Oh, Susanna
M:2/4
L:1/8
Q:1/4=104
K:G
G/A/ | "G"B d d> e | d B G> A | B B A G | "D7"A2 z G/A/ | "G"B d d> e | d B G> A | B B "D7"A A | "G"G2 |]`,
  'Red River Valley': `X:1
T:Red River Valley
M:4/4
L:1/4
Q:1/4=96
K:G
D G | "G"B2 B A | G2 A G | E G2 D | G2 D G | B2 G B | d2 c B | "D7"A4- | A2 d c |
"G"B2 B A | G2 A B | "C"d c2 E | E2 D C | "D7"D2 F G | A2 B A | "G"G4- | G2 |]`,
  'When the Saints': `X:1
T:When the Saints
M:4/4
L:1/4
Q:1/4=120
K:C
z C E F | "C"G4 | z C E F | G4 | z C E F | G2 E2 | C2 E2 | "G7"D4 | z E E D | "C"C3 C | E2 G2 | "F"G F3 | z2 E F | "C"G2 E2 | "G7"C2 D2 | "C"C4 |]`,
  Greensleeves: `X:1
T:Greensleeves
M:6/8
L:1/8
Q:3/8=60
K:Am
A | "Am"c2 d e>fe | "G"d2 B G>AB | "Am"c2 A A>^GA | "E"B2 ^G E2 A | "Am"c2 d e>fe | "G"d2 B G>AB | "Am"c>BA "E"^G>^F^G | "Am"A3 A2 |]`,
  'Down in the Valley': `X:1
T:Down in the Valley
M:3/4
L:1/4
Q:1/4=108
K:D
A, D E | "D"F3- | F D F | E D E | "A7"A,3- | A, A, C | E3- | E C E | "D"F E D | D3 |]`,
  'Scarborough Fair': `X:1
T:Scarborough Fair
M:3/4
L:1/4
Q:1/4=110
K:Ador
"Am"A2 A | e2 e | "G"B3/2 c/ B | "Am"A3 | z e g | "C"a2 g | e ^f d | "Am"e3- | e2 a | a2 a | "C"g2 e | e d c | "G"B G2 | "Am"A2 e | "G"d2 c | B A G | "Am"A3- | A3 |]`,
  'Old Joe Clark': `X:1
T:Old Joe Clark
M:2/4
L:1/8
Q:1/4=112
K:Amix
"A"e f g f | e d c A | e f g f | "G"e4 | "A"e f g f | e d c A | "A"A c "E"B A | "A"A4 |]`,
  Shenandoah: `X:1
T:Shenandoah
M:4/4
L:1/4
Q:1/4=76
K:D
A, | "D"D D D E/F/ | "G"G/B/ A2 d/c/ | "D"B A3/2 B/ A/F/ | "D"A3 A | "Bm"B B B F | "G"A F E D | "D"E3 D/E/ | "D"F D "A7"E E | "D"D3 |]`,
};
