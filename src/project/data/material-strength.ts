/**
 * What strength and fatigue ask about a material beyond its tensile test: welding, compression, fatigue of the bare
 * metal, states of plastics. By proper name of `materials.ts`; every record carries its own source.
 *
 * Fatigue figures are stress amplitudes of smooth, machined specimens: surface, notches, corrosion and welds come on top.
 * Aluminium and magnesium have no fatigue limit; the figure holds at the number of cycles beside it.
 * Heat-affected zones: the width is counted from the weld to either side (EN 1999-1-1, 6.1.6.3, walls up to 6 mm, and
 * interpass below 60 °C). Steels of this list harden or hardly soften; for them the width says how far the as-welded
 * figures apply.
 * Not here: low temperatures, ageing of polymers, corrosion fatigue.
 */

/** Which family of welded-detail curves applies: titanium has no code, its rows are estimates from memory. */
export type FatigueFamily = 'steel-weld' | 'aluminium-weld' | 'titanium-weld' | 'none';

export interface BareFatigue {
  /** Stress amplitude (half the range) at `cycles`. */
  readonly amplitude_MPa: number;
  readonly cycles: number;
  /** Stress ratio of the test, least over greatest stress. */
  readonly R: number;
  readonly source: string;
}

/** How a plastic behaves dry as moulded, at 50 % relative humidity, or under load for 1,000 h. */
export type PlasticState = 'dry' | 'conditioned' | 'long_term';
export const PLASTIC_STATES: readonly PlasticState[] = ['dry', 'conditioned', 'long_term'];
export interface StateValues {
  readonly E_GPa: number;
  readonly ultimate_MPa: number;
  readonly source: string;
}

export interface StrengthData {
  readonly fatigueFamily: FatigueFamily;
  /** Joined by welding in this trade. */
  readonly weldable: boolean;
  /** mm to either side of the weld, by MIG and by TIG; NaN where it is not welded. */
  readonly hazWidth_mm: { readonly mig: number; readonly tig: number };
  readonly hazSource: string;
  /** Where it differs from tension; NaN means the same. */
  readonly compressiveYield_MPa: number;
  readonly compressiveSource: string;
  readonly fatigue?: BareFatigue;
  readonly states?: Readonly<Partial<Record<PlasticState, StateValues>>>;
}

const MEMORY = 'default, from memory';
const NONE = Number.NaN;
const SAME = 'as in tension';

const EN_WIDTH = 'EN 1999-1-1, 6.1.6.3 (walls up to 6 mm): ' + MEMORY;
const STEEL_WIDTH = MEMORY + ': thin steel tube, no softening counted beyond it';

const fatigue = (amplitude_MPa: number, cycles: number, source: string, R = -1): BareFatigue => ({
  amplitude_MPa,
  cycles,
  R,
  source,
});

const base = {
  fatigueFamily: 'none',
  weldable: false,
  hazWidth_mm: { mig: NONE, tig: NONE },
  hazSource: 'not welded',
  compressiveYield_MPa: NONE,
  compressiveSource: SAME,
} as const;

const aluminium = (f: BareFatigue): StrengthData => ({
  ...base,
  fatigueFamily: 'aluminium-weld',
  weldable: true,
  hazWidth_mm: { mig: 20, tig: 30 },
  hazSource: EN_WIDTH,
  fatigue: f,
});
const steel = (f: BareFatigue): StrengthData => ({
  ...base,
  fatigueFamily: 'steel-weld',
  weldable: true,
  hazWidth_mm: { mig: 10, tig: 10 },
  hazSource: STEEL_WIDTH,
  fatigue: f,
});
const titanium = (f: BareFatigue): StrengthData => ({
  ...base,
  fatigueFamily: 'titanium-weld',
  weldable: true,
  hazWidth_mm: { mig: NONE, tig: 15 },
  hazSource: MEMORY + ': TIG under argon',
  fatigue: f,
});
const bare = (f: BareFatigue): StrengthData => ({ ...base, fatigue: f });

const SHARE = (share: number): string => `${MEMORY}: ${share} of the ultimate strength`;
const AS_6061 = MEMORY + ': about as 6061-T6';

export const STRENGTH: Readonly<Record<string, StrengthData>> = {
  '6061-T6': aluminium(fatigue(96.5, 5e8, 'supplier data sheet of 6061-T6, rotating beam')),
  '6061-T6 drawn': aluminium(fatigue(96.5, 5e8, 'supplier data sheet of 6061-T6, rotating beam')),
  '6061-T4': aluminium(fatigue(90, 5e8, MEMORY)),
  '6063-T6': aluminium(fatigue(69, 5e8, MEMORY)),
  '6005A-T6': aluminium(fatigue(90, 5e8, AS_6061)),
  '6082-T6': aluminium(fatigue(95, 5e8, AS_6061)),
  '7005-T6': aluminium(fatigue(140, 5e8, MEMORY)),
  '7020-T6': aluminium(fatigue(140, 5e8, MEMORY + ': as 7005')),
  '7075-T6': bare(fatigue(159, 5e8, MEMORY)),
  '2014-T6': bare(fatigue(124, 5e8, MEMORY)),
  'A356-T6': bare(fatigue(60, 5e8, MEMORY + ': castings, porosity decides')),
  '25CrMo4': steel(fatigue(318, 1e7, 'MIL-HDBK-5J, unnotched normalised 4130, run-out at R = −1: ' + MEMORY)),
  '25CrMo4+SR': steel(fatigue(318, 1e7, MEMORY + ': as normalised')),
  '25CrMo4-HT125': steel(fatigue(388, 1e7, SHARE(0.45))),
  '25CrMo4-HT150': steel(fatigue(465, 1e7, SHARE(0.45))),
  '25CrMo4-HT180': steel(fatigue(558, 1e7, SHARE(0.45))),
  E235: steel(fatigue(136, 1e7, SHARE(0.4))),
  E355: steel(fatigue(196, 1e7, SHARE(0.4))),
  S235: steel(fatigue(160, 1e7, MEMORY)),
  S355: steel(fatigue(190, 1e7, SHARE(0.4))),
  '1020 HREW': steel(fatigue(144, 1e7, SHARE(0.4))),
  '1020 DOM': steel(fatigue(193, 1e7, SHARE(0.4))),
  304: steel(fatigue(208, 1e7, SHARE(0.4))),
  '316L': steel(fatigue(175, 1e7, SHARE(0.35))),
  '17-4PH-H900': bare(fatigue(524, 1e7, SHARE(0.4))),
  '42CrMo4+QT': bare(fatigue(495, 1e7, SHARE(0.45))),
  'Ti-3Al-2.5V': titanium(
    fatigue(280, 1e7, 'handbook data of annealed tube, smooth, used for the cold-worked state too'),
  ),
  'Ti-3Al-2.5V annealed': titanium(fatigue(280, 1e7, 'handbook data, smooth; 170 MPa at a notch of Kt 1.8')),
  'Ti-6Al-4V': titanium(fatigue(510, 1e7, MEMORY)),
  AZ91D: {
    ...bare(fatigue(70, 5e8, MEMORY + ': lower end of 70-100')),
    compressiveYield_MPa: 130,
    compressiveSource: MEMORY + ': castings, slightly below tension',
  },
  AZ61: {
    ...bare(fatigue(120, 5e8, MEMORY)),
    compressiveYield_MPa: 147,
    compressiveSource: 'Smithells Metals Reference Book, table of magnesium alloys (AZ61 extruded)',
  },
  AZ31: {
    ...bare(fatigue(100, 5e8, MEMORY)),
    compressiveYield_MPa: 93,
    compressiveSource: 'Smithells Metals Reference Book, table of magnesium alloys (AZ31 extruded)',
  },
  'PA66-GF30': {
    // 45 MPa greatest stress at R = 0.1 is an amplitude of 45 (1 − 0.1)/2.
    ...bare(fatigue(20, 1e6, MEMORY + ': conditioned, greatest stress 45 MPa', 0.1)),
    states: {
      dry: { E_GPa: 9.7, ultimate_MPa: 185, source: MEMORY + ': 9.5-10 GPa, dry as moulded' },
      conditioned: { E_GPa: 7, ultimate_MPa: 125, source: MEMORY + ': 6.5-7.2 GPa at 50 % relative humidity' },
      long_term: {
        E_GPa: 4.2,
        ultimate_MPa: 60,
        source: MEMORY + ': creep modulus 60 % after 1,000 h; half the strength',
      },
    },
  },
  POM: {
    ...base,
    states: {
      dry: { E_GPa: 2.8, ultimate_MPa: 65, source: MEMORY },
      conditioned: { E_GPa: 2.8, ultimate_MPa: 65, source: MEMORY + ': takes up hardly any water' },
      long_term: { E_GPa: 1.4, ultimate_MPa: 30, source: MEMORY + ': creep modulus after 1,000 h; half the strength' },
    },
  },
  'CFRP quasi-isotropic': base,
  'CFRP UD': { ...base, compressiveSource: 'the ultimate strength given is that in compression' },
  beech: base,
};
