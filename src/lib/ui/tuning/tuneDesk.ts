/** What the tuning page's worker does: a whole tuning for a plan. */
import type { Setup } from '$lib/setup/setup';
import { tune, type Plan, type Tuning } from '$lib/tuning/tune';

export class TuneDesk {
  tune(setup: Setup, neck: number, plan: Plan): Tuning {
    return tune(setup, neck, plan);
  }
}
