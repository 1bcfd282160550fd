/** What the checks know of each tube: strengths with and without heat-affected zone, and the curves of its details. */
import { type DetailCurve, fatigueCurve, type TubeStrength } from '#kernel';
import { type Detail, findDetail, type Material, usualDetail } from '#project';
import type { LoadBearing } from './frame-parts.ts';

/** Materials without a yield point are designed to this share of their strength; default, from memory. */
const BRITTLE_SHARE = 0.5;

/** Alloys that are not welded (7075, 42CrMo4) still have a bare wall: the class of their base metal, told by its stiffness, GPa. */
function bareFamily(material: Material): Material['fatigueFamily'] {
  if (material.E_GPa > 60 && material.E_GPa < 80) return 'aluminium-weld';
  if (material.E_GPa > 180) return 'steel-weld';
  return material.E_GPa > 95 && material.E_GPa < 125 && material.density_kgpm3 > 4000 ? 'titanium-weld' : 'none';
}

const curves = new Map<string, DetailCurve>();
/** The detail's curve for a family of materials; undefined where there is no class. */
export function detailCurve(detail: Detail, material: Material): DetailCurve | undefined {
  const family =
    material.fatigueFamily === 'none' && detail.name === 'parent' ? bareFamily(material) : material.fatigueFamily;
  const found = detail.classes[family];
  if (!found || detail.stress === 'throat' || detail.stress === 'shear') return undefined;
  const key = `${detail.name}|${family}`;
  const known = curves.get(key);
  if (known) return known;
  const made: DetailCurve = { name: detail.name, stress: detail.stress, curve: fatigueCurve(found.curve) };
  curves.set(key, made);
  return made;
}

export function tubeStrengths(bearing: LoadBearing): readonly TubeStrength[] {
  return bearing.tubes.map((tube, t) => {
    const material = bearing.materials[t]!;
    const round = tube.shape === 'round';
    const plain = Number.isNaN(material.yield_MPa) ? BRITTLE_SHARE * material.ultimate_MPa : material.yield_MPa;
    const weak = tube.welded && !bearing.treated[t] && !Number.isNaN(material.hazYield_MPa);
    const chosen = bearing.details[t] === '' ? undefined : findDetail(bearing.details[t]!);
    const usual = (onto: 'tube side' | 'plate'): DetailCurve | undefined =>
      detailCurve(chosen ?? usualDetail({ welded: tube.welded, round, onto }), material);
    const named = (name: string): DetailCurve | undefined => detailCurve(findDetail(name)!, material);
    return {
      yield: plain,
      ultimate: material.ultimate_MPa,
      hazUltimate: weak && !Number.isNaN(material.hazUltimate_MPa) ? material.hazUltimate_MPa : material.ultimate_MPa,
      hazYield: weak ? Math.min(material.hazYield_MPa, plain) : plain,
      hazWidth: weak ? material.hazWidth_mm.tig : 0,
      nu: Number.isNaN(material.poisson) ? 0.3 : material.poisson,
      onTube: usual('tube side'),
      onPlate: usual('plate'),
      carrying: tube.welded ? named('lug fillet') : named('parent'),
      bare: named('parent'),
    };
  });
}
