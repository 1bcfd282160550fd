/** The trip on a candidate's sheet: the way from door to door in time and energy, and the figures of gears, power and brakes behind it. */
import type { Judged } from '#study';
import { cautionsOf, grounds, quantityTable } from './quantity-table.ts';
import { absentWords, figure, table } from './section.ts';
import { plainText, tag } from './svg.ts';
import { tripLine } from './trip-line.ts';
import { candidateName, capital } from './words.ts';

const clock = (seconds: number): string => {
  const whole = Math.round(seconds);
  return `${Math.floor(whole / 60)} min ${String(whole % 60).padStart(2, '0')} s`;
};

export function tripSection(j: Judged): string {
  const { trip, drive, failures } = j.evaluation.results;
  const head = tag('h4', {}, 'From door to door');
  const driven = drive
    ? tag(
        'details',
        {},
        tag('summary', {}, 'Gears, power, chain or belt, brakes and motor in figures'),
        quantityTable(j, /^drive\./, 'Drive'),
        cautionsOf(j, /^drive\./),
      )
    : failures.drive
      ? absentWords(`Drive: ${failures.drive}`)
      : '';
  const picture = trip && tripLine(trip);
  if (!picture)
    return (
      head +
      absentWords(
        failures.trip ??
          (trip
            ? 'The brief’s trip has no way to go'
            : 'The trip was not computed: give the brief a demand or wish on one of its quantities, such as `trip.seconds`'),
      ) +
      driven
    );
  const { legs, seconds, energy, lifts, inHand, firstTime, folding } = trip;
  const kJ = (joule: number): string => `${(joule / 1000).toFixed(1)} kJ`;
  const sum = `${clock(seconds)}, ${(energy / 1000).toFixed(0)} kJ, taken up ${lifts} times`;
  const hands =
    folding > 0
      ? ` Folding and unfolding ${folding.toFixed(0)} s by trained hands, ${firstTime[0].toFixed(0)} to ${firstTime[1].toFixed(0)} s for the first time.`
      : '';
  return [
    head,
    tag(
      'div',
      { class: 'row' },
      figure(
        picture,
        `The trip with ${candidateName(j)}: ${sum}; ${legs.map((l) => `${l.words} ${l.seconds.toFixed(0)} s`).join(', ')}`,
        tag('strong', {}, plainText(`${sum}.`)) +
          plainText(
            ` Width is time, height the power of the body, area energy. Below: the part after the ride, enlarged. Hatched: its whole weight in the hands, ${inHand.toFixed(0)} s; arrows: taken up (rests on the stairs set it down between).${hands}`,
          ),
      ),
      tag(
        'div',
        { class: 'wide' },
        table(
          'The trip leg by leg',
          ['leg', 'from', 'takes', 'energy', 'weight in hand'],
          [
            ...legs.map((l, i) => [
              `${i + 1}. ${capital(l.words)}`,
              `${l.start.toFixed(0)} s`,
              `${l.seconds.toFixed(l.seconds < 10 ? 1 : 0)} s`,
              kJ(l.energy),
              l.inHand ? 'yes' : 'no',
            ]),
            ['whole trip', '', `${seconds.toFixed(0)} s`, kJ(energy), `${inHand.toFixed(0)} s`],
          ],
        ),
      ),
    ),
    grounds(j, 'trip.seconds', 'trip.energy'),
    cautionsOf(j, /^trip\./),
    driven,
  ].join('');
}
