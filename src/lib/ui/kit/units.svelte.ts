/** Metric or US units, chosen once for all places and remembered on this device. */
import { UNITS, type Units } from '$lib/strings/units';
import { storeSetting, storedSetting } from '$lib/storage/setting';

const NAME = 'units';

class ChosenUnits {
  #units = $state<Units>('metric');

  get now(): Units {
    return this.#units;
  }

  /** Takes over what was chosen on an earlier visit. Call it once the page is there. */
  recall(): void {
    const stored = storedSetting(NAME);
    this.#units = UNITS.find((each) => each === stored) ?? 'metric';
  }

  choose(units: Units): void {
    this.#units = units;
    storeSetting(NAME, units);
  }
}

export const chosenUnits = new ChosenUnits();
