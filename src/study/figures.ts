/** How figures are written for people: as many decimals as the unit deserves, the unit beside the number. */
const DECIMALS: Readonly<Record<string, number>> = {
  mm: 1,
  kg: 2,
  deg: 1,
  '%': 1,
  'm/s': 2,
  'm/s2': 2,
  N: 1,
  s: 1,
  m3: 4,
  m: 2,
  'N.m': 1,
  'km/h': 1,
  rpm: 0,
  kJ: 0,
  km: 1,
  'Wh/km': 1,
  Wh: 0,
  W: 0,
  'deg/s/N/m': 2,
};

/** `11.92 kg`, `0.1213 m3`, `5`; plain numbers whole where they are whole, else to two decimals. */
export const figureText = (value: number, unit: string): string =>
  `${numberText(value, unit)}${unit ? ` ${unit}` : ''}`;

/** The number alone, with the decimals of its unit. */
export function numberText(value: number, unit: string): string {
  const number =
    unit === '' ? (Number.isInteger(value) ? String(value) : value.toFixed(2)) : value.toFixed(DECIMALS[unit] ?? 2);
  return /^-0(\.0*)?$/.test(number) ? number.slice(1) : number;
}

/** `at most 13 kg`, as typed: limits keep their own digits. */
export const limitText = (sense: 'at_most' | 'at_least', limit: number, unit: string): string =>
  `${sense === 'at_most' ? '≤' : '≥'} ${Number(limit.toPrecision(6))}${unit ? ` ${unit}` : ''}`;
