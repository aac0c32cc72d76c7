/**
 * What keeps documents on this device: the store, the history of a document, the reader of setups. It is
 * fetched when the page stands (`keeperHere.ts`), for no chord waits for it.
 */
export { DocumentSession } from '$lib/storage/documentSession';
export { setupKind } from '$lib/storage/kind';
export { mergeSetups } from '$lib/storage/setupMerge';
export { knownLast, storeKnown } from '$lib/storage/known';
export { adopt, takeUp } from '$lib/storage/takeUp';
export { deviceStore } from './deviceStore';
export { OpenDocument } from './openDocument.svelte';
