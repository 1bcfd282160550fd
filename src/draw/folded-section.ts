/** The folded bicycle on a candidate's sheet: its box, and how it lies or stands in each space of the brief. */
import type { PlaceFit } from '#kernel';
import type { Judged, SpaceSetting, StandIn } from '#study';
import { boxFrame, packageViews, spaceViews, stowedFit } from './package-views.ts';
import { absentWords, figure, type Part } from './section.ts';
import { plainText, tag } from './svg.ts';
import { candidateName, spaced, typeset } from './words.ts';

const DEG = 180 / Math.PI;
const mm = (m: number): string => `${(m * 1000).toFixed(0)} mm`;
const named = (name: string, words: string): string => tag('strong', {}, plainText(name)) + plainText(typeset(words));

export function foldedSection(j: Judged): Part {
  const head = tag('h3', {}, 'Folded');
  const views = packageViews(j);
  const frame = boxFrame(j);
  const { box, failures, setting, stow, handling } = j.evaluation.results;
  if (!views || !frame || !box) return { markup: head + absentWords(failures.box ?? failures.fold) };
  const grown = Math.max(...[0, 1, 2].map((k) => Math.abs(box.largest.size[k]! - box.smallest.size[k]!)));
  const size = frame.sides.map((s) => (s * 1000).toFixed(0)).join(' × ');
  const estimated = grown > 0.0005 ? ` Estimated hardware moves a side by up to ${mm(grown / 2)} either way.` : '';
  const caption = named('The package and its box,', ` ${size} mm as the views stand (${frame.attitude}).${estimated}`);
  const pictures = [figure(views, `Folded package of ${candidateName(j)}: side, end and plan`, caption)];
  const words: string[] = [];
  for (const space of setting.spaces) {
    const name = spaced(space.name);
    const stand = handling?.stands.get(space.name);
    if (space.kind === 'stand') {
      words.push(
        stand ? tag('p', {}, named(`Standing in ${name}:`, ` ${standWords(stand)}.`)) : absentWords(failures.handling),
      );
      continue;
    }
    const found = stow?.get(space.name);
    const fit = stowedFit(j, space.name)?.fit;
    const picture = spaceViews(j, space.name);
    if (!found) words.push(absentWords(failures.stow));
    else if (fit && picture)
      pictures.push(
        figure(
          picture,
          `${candidateName(j)} folded, in ${name}`,
          named(`Lying in ${name}:`, ` ${fitWords(fit, space)}`),
        ),
      );
    else {
      const refused = found.refused.map((r) => `${r.attitude}: ${r.reason}`).join('; ');
      words.push(tag('p', {}, named(`In ${name}:`, ` × no allowed attitude (${refused}).`)));
    }
  }
  return {
    markup: head + tag('div', { class: 'row' }, ...pictures) + words.join(''),
    scale: ['package', views.reduction],
  };
}

function standWords(stand: StandIn): string {
  const { margin, footprint } = stand;
  const parts = [
    margin === undefined
      ? '× it does not come to rest on what it is meant to stand on'
      : margin < 0
        ? `× it falls over, ${(-margin * DEG).toFixed(1)}° short of the slope and the jerk of the place`
        : `${(margin * DEG).toFixed(1)}° of tilt left beyond the slope and the jerk of the place`,
  ];
  if (footprint !== undefined)
    parts.push(footprint < 0 ? `footprint ${mm(-footprint)} too large` : `${mm(footprint)} of room on the footprint`);
  return parts.join('; ');
}

function fitWords(fit: PlaceFit, space: SpaceSetting): string {
  const way = {
    straight: '',
    rolled: `, rolled by ${Math.abs(fit.roll * DEG).toFixed(0)}° about the way in`,
    turned: ', turned on the way in',
  }[fit.entry];
  const room = (m: number): string => (m < 0 ? `${mm(-m)} too much` : mm(m));
  const { along, across, up } = fit.margins;
  const verdict =
    fit.margin < 0
      ? `× It does not fit: ${mm(-fit.margin)} too much ${fit.binding}.`
      : `It fits with ${mm(fit.margin)} to spare, tightest ${fit.binding}.`;
  return `${fit.attitude}${way}. Left over: along ${room(along)}, across ${room(across)}, up ${room(up)}; the place asks for ${mm(space.margin)}. ${verdict} Figures with estimated hardware at its largest, picture as drawn.`;
}
