/**
 * What instruments usually have where a setup does not tell, and nothing else. All of it is common
 * practice of the trade, from memory: no published source of a size was found, and makers differ by half either
 * way. One's own measure, where the setup tells it, stands in its place. That there is some of each is published:
 * slack before the changer moves (https://steelguitar.com/adjustments.html), springs that bring controls back or
 * help the changer (https://steelguitar.com/maps/helpers.html).
 */
import type { StationKind } from '$lib/setup/setup';

/**
 * Newtons at foot, knee or hand that a control's own return spring asks, on the mean over its travel
 * and with no string hooked up (common practice, from memory): some 1½ pounds to bring a pedal and its rod back up, one to hold a knee
 * lever against its stop, less for a lever that the hand works. The springs of the changer's lowering
 * fingers are not among them: the work on lowered strings is counted in full for those.
 */
export const USUAL_SPRING_N: Readonly<Record<StationKind, number>> = { pedal: 7, knee: 5, hand: 4 };

/**
 * Friction as a share of what strings and springs ask: pivots, cross shafts, rods and the changer's axle
 * give back four fifths of what is put in, so that a quarter comes on top (1/0.8 = 1.25). From memory; no measurement of a changer was found.
 */
export const USUAL_FRICTION = 0.25;

/**
 * Slack before the first string moves, as a share of the travel: 3 mm of 30 (common practice, from memory). A
 * pedal's whole travel is ¾ to 1 inch by a teacher's letter (https://pedalsteelmusic.com/?p=857); how much of it is
 * slack, it does not say.
 */
export const USUAL_SLACK_SHARE = 0.1;

/**
 * Millimetres of the changer finger's rounding that the string bends over: a ¾ to 7⁄8 inch round top (common
 * practice, from memory).
 */
export const USUAL_FINGER_RADIUS_MM = 10;
