/** Whether a sound device answers: a context that sounds has a clock that goes. */

/** A browser that never answers must not keep the player waiting: said within two seconds. */
const PATIENCE_MS = 1800;
const LOOK_MS = 20;

/** What is said where none does. */
export const NO_ANSWER =
  'No sound starts: no sound device answers, or the browser keeps it back. See that a loudspeaker or headphones are connected and chosen, then touch Play once more.';

/** True as soon as the context runs and its clock goes; false where it does not in good time. */
export const isAnswered = (
  context: Pick<AudioContext, 'state' | 'currentTime'>,
): Promise<boolean> =>
  new Promise((answer) => {
    const began = context.currentTime;
    const end = (answered: boolean): void => {
      clearInterval(looking);
      clearTimeout(patience);
      answer(answered);
    };
    const looking = setInterval(() => {
      if (context.state === 'running' && context.currentTime > began) end(true);
    }, LOOK_MS);
    const patience = setTimeout(() => {
      end(false);
    }, PATIENCE_MS);
  });
