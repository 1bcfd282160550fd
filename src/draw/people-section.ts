/**
 * People on a candidate's sheet: who fits and who is left out, three riders on the elevation, knees and reach; then the hands that
 * fold it (`hands-section.ts`) and the way from door to door (`trip-section.ts`). Everything is read from the evaluation; only the three
 * riders that stand for the public are seated here, as the steering discipline seats its usual rider.
 */
import { PUBLICS } from '#kernel';
import type { FitResult, Judged } from '#study';
import { fitMap } from './fit-map.ts';
import { handsSection } from './hands-section.ts';
import { gapWords, kneePath } from './knee-path.ts';
import { bandTable, gainTable, missTable, percent, roomTable, threeTable } from './people-tables.ts';
import { grounds, quantityTable } from './quantity-table.ts';
import { reachZone } from './reach-zone.ts';
import { ridersElevation } from './riders-elevation.ts';
import { absentWords, figure, type Part } from './section.ts';
import { plainText, tag } from './svg.ts';
import { sizeWords } from './three-riders.ts';
import { tripSection } from './trip-section.ts';
import { candidateName, capital, prose } from './words.ts';

const strong = (words: string): string => tag('strong', {}, plainText(words));
const p = (words: string): string => tag('p', {}, prose(words));

export function peopleSection(j: Judged): Part {
  const { fit, failures } = j.evaluation.results;
  const head = tag('h3', {}, 'People') + tag('h4', {}, 'Who fits');
  const hands = handsSection(j) + tripSection(j);
  if (!fit)
    return {
      markup:
        head +
        absentWords(
          failures.fit ??
            'Who fits was not computed: give the brief a demand or wish on one of its quantities, such as `fit.share`',
        ) +
        hands,
    };
  const seated = threeSeated(j, fit);
  return { markup: head + whoFits(j, fit) + seated.markup + hands, ...(seated.scale ? { scale: seated.scale } : {}) };
}

function publicWords(j: Judged, fit: FitResult): string {
  const { people } = j.evaluation.results.setting;
  return `${fit.people.n} riders drawn, ${(100 * people.women).toFixed(0)} % women; public ${people.public.replaceAll('_', ' ')} (${PUBLICS[people.public].source})`;
}

function whoFits(j: Judged, fit: FitResult): string {
  const { fits, women, men, leftOut } = fit;
  const { fitChange, failures } = j.evaluation.results;
  const sexes = [
    ...(Number.isFinite(women.share) ? [`${percent(women.share)} of the women`] : []),
    ...(Number.isFinite(men.share) ? [`${percent(men.share)} of the men`] : []),
  ].join(' and ');
  const map = fitMap(fit);
  const shown = map.shown < fit.people.n ? ` The first ${map.shown} of the sample are drawn.` : '';
  const gains = fitChange ? gainTable(fitChange) || p('No single change that was tried wins riders.') : '';
  return [
    p(
      `${percent(fits.share)} of the brief’s public fit (95 % of such samples: ${percent(fits.low)} to ${percent(fits.high)}): ${sexes}. ${
        leftOut
          ? `Left out are, on average, bodies of ${leftOut.stature.toFixed(2)} m, inseam ${(1000 * leftOut.inseam).toFixed(0)} mm, ${leftOut.mass.toFixed(0)} kg.`
          : 'Nobody is left out.'
      }`,
    ),
    tag(
      'div',
      { class: 'row' },
      figure(
        map,
        `Stature against inseam of ${map.shown} riders on ${candidateName(j)}: ${percent(fits.share)} fit${fit.misses
          .filter((m) => m.all.share > 0)
          .map((m) => `, ${percent(m.all.share)} ${m.words}`)
          .join('')}`,
        strong('Who fits, rider by rider.') +
          plainText(
            ` ${capital(publicWords(j, fit))}.${shown} A dot fits, an open shape does not. Mass and proportions are not on the map, so both lie mixed.`,
          ),
      ),
      tag(
        'div',
        { class: 'stack' },
        missTable(fit),
        tag('div', { class: 'wide' }, bandTable(fit)),
        gains,
        fitChange || !failures.fit_change ? '' : absentWords(failures.fit_change),
      ),
    ),
    grounds(j, 'fit.share'),
  ].join('');
}

function threeSeated(j: Judged, fit: FitResult): Part {
  const elevation = ridersElevation(j, fit);
  const knees = kneePath(j, fit);
  const reach = reachZone(j, fit);
  const sizes = elevation.riders.map(sizeWords).join('; ');
  const { limits } = fit;
  const angle = (rad: number): string => ((rad * 180) / Math.PI).toFixed(0);
  const verdicts = reach.zones.map((z) => `${z.rider.name} ${z.verdict === 'inside' ? 'in reach' : `× ${z.verdict}`}`);
  const asked = `${(1000 * limits.knee_gap).toFixed(0)} mm are asked`;
  return {
    markup: [
      tag('h4', {}, 'Three riders'),
      tag(
        'div',
        { class: 'row' },
        figure(
          elevation,
          `Three riders on ${candidateName(j)}, ranked by stature: ${sizes}; saddles at ${elevation.riders.map((r) => `${(1000 * r.seated.saddle.saddle[2]).toFixed(0)} mm`).join(', ')}`,
          strong('Three riders on the elevation.') +
            plainText(
              ' Ranked by stature alone: 5, 50 and 95 % of the drawn public are shorter; all else is a mean body of that stature. Saddle heights in mm, each saddle where the 0.883 rule and the post put it.',
            ),
        ),
        tag('div', { class: 'wide' }, threeTable(knees.turns, reach.zones)),
      ),
      tag('h4', {}, 'Knees and reach'),
      tag(
        'div',
        { class: 'plates pairs' },
        figure(
          knees.side,
          `Way of the knees over a turn of the cranks beside the bar, from the side: ${knees.turns.map((t) => `${t.rider.name} ${gapWords(t)}`).join('; ')}`,
          strong('Knees and bar from the side.') +
            plainText(
              ` Ways of the knee joint over a turn; rings of ${(1000 * limits.knee_radius).toFixed(0)} mm where each knee is nearest; ghosts: the bar turned ${angle(limits.steer_knee)}° either way. Least gap of the three: ${gapWords(knees.tightest)}; ${asked}.`,
            ),
        ),
        figure(
          knees.above,
          `The same from above: what both knees sweep, ${(1000 * limits.knee_out).toFixed(0)} mm from the middle, and the bar straight and turned`,
          strong('The same from above,') +
            plainText(
              ` front to the right. Knees ${(1000 * limits.knee_out).toFixed(0)} mm from the middle. Outlines that cross here may pass at different heights: the gap is told in the side view.`,
            ),
        ),
        figure(
          reach,
          `Where the grips may be for three riders, and where they are: ${verdicts.join(', ')}`,
          strong('Where the grips may be.') +
            plainText(
              ` Trunk ${angle(limits.trunk_least)} to 85° to the ground, elbow bent ${angle(limits.elbow_reach)}° at least and ${angle(limits.elbow_most)}° at most; darkest where all three reach. Circles: hip and shoulder as they sit. Grips: ${verdicts.join(', ')}.`,
            ),
        ),
        tag('div', { class: 'wide' }, roomTable(fit, j.evaluation.results.model.top)),
      ),
      tag(
        'details',
        {},
        tag('summary', {}, 'Saddle, knees, standing over it, pedals, in figures'),
        quantityTable(j, /^fit\.(saddle|knee|stand|toe|lean)/, 'Fit of the bicycle'),
      ),
    ].join(''),
    scale: ['riders', elevation.reduction],
  };
}
