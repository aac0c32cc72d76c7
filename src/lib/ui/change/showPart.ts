/** Brings a part of the page into view by its label, unfolded, with the keyboard in it. */
export function showPart(label: string): void {
  const section = document.querySelector<HTMLElement>(`section[aria-label="${label}"]`);
  const fold = section?.querySelector('details');
  if (fold) fold.open = true;
  section?.scrollIntoView({ block: 'center' });
  section?.querySelector<HTMLElement>('summary, button, [tabindex]')?.focus();
}
