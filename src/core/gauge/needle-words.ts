/** A needle by its three names; null where a system has none. */
export type NeedleSize = { readonly mm: number; readonly us: string | null; readonly oldUk: string | null };

/**
 * Needles by diameter, with US and old UK (also Canadian) numbers.
 * Source: conversion charts as published by needle makers and yarn shops, which agree from 2 to 10 mm; 7 and 7.5 mm have no
 * US size, 2.5 and 3.5 mm no old UK number. Above 10 mm the charts differ by a fraction of a millimetre.
 */
export const needleSizes: readonly NeedleSize[] = [
  { mm: 2, us: '0', oldUk: '14' },
  { mm: 2.25, us: '1', oldUk: '13' },
  { mm: 2.5, us: '1.5', oldUk: null },
  { mm: 2.75, us: '2', oldUk: '12' },
  { mm: 3, us: '2.5', oldUk: '11' },
  { mm: 3.25, us: '3', oldUk: '10' },
  { mm: 3.5, us: '4', oldUk: null },
  { mm: 3.75, us: '5', oldUk: '9' },
  { mm: 4, us: '6', oldUk: '8' },
  { mm: 4.5, us: '7', oldUk: '7' },
  { mm: 5, us: '8', oldUk: '6' },
  { mm: 5.5, us: '9', oldUk: '5' },
  { mm: 6, us: '10', oldUk: '4' },
  { mm: 6.5, us: '10.5', oldUk: '3' },
  { mm: 7, us: null, oldUk: '2' },
  { mm: 7.5, us: null, oldUk: '1' },
  { mm: 8, us: '11', oldUk: '0' },
  { mm: 9, us: '13', oldUk: '00' },
  { mm: 10, us: '15', oldUk: '000' },
  { mm: 12.75, us: '17', oldUk: null },
  { mm: 15, us: '19', oldUk: null },
  { mm: 19, us: '35', oldUk: null },
  { mm: 25, us: '50', oldUk: null },
];

/**
 * A needle in words: millimetres, and the numbers that older or American needles carry.
 *
 * @param mm diameter, above 0
 * @returns the numbers that exist; a diameter that no chart has is given in millimetres alone
 * @example needleWords(7) // => '7 mm (old UK 2, no US size)'
 * @example needleWords(5) // => '5 mm (old UK 6, US 8)'
 * @example needleWords(3.5) // => '3.5 mm (US 4)'
 * @example needleWords(4.25) // => '4.25 mm'
 */
export function needleWords(mm: number): string {
  const size = needleSizes.find((each) => Math.abs(each.mm - mm) < 0.005);
  const metric = `${Math.round(mm * 100) / 100} mm`;
  if (!size) return metric;
  const names = [size.oldUk === null ? '' : `old UK ${size.oldUk}`, size.us === null ? 'no US size' : `US ${size.us}`];
  return `${metric} (${names.filter((name) => name !== '').join(', ')})`;
}
