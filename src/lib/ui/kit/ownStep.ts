import type { AfterNavigate, BeforeNavigate } from '@sveltejs/kit';

/**
 * Whether a page itself put something into its own address, which it knows already: `goto` within
 * one place. `goto` from another place brings news, as a link does.
 */
export const ownStep = ({ type, from, to }: AfterNavigate | BeforeNavigate): boolean =>
  type === 'goto' && from?.route.id !== undefined && from.route.id === to?.route.id;
