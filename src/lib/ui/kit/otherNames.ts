/** What reads and writes texts in other names of notes than letters; fetched when such names are chosen. */
export { pieceCalled, pieceInLetters } from '$lib/arrange/calledText';
export { textCalled, textInLetters } from '$lib/theory/typedText';
