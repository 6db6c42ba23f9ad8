/** How large the numbers of a style may be: far beyond any slipper, so that a slip of the pen is not knitted. */
export const styleLimits = {
  repeat: { least: 1, most: 100 },
  plus: { least: 0, most: 200 },
  leastStitches: { least: 1, most: 400 },
  rows: { least: 0, most: 1000 },
  by: { least: 1, most: 50 },
  everyRows: { least: 1, most: 40 },
  takes: { least: 0, most: 2 },
  stretch: { least: 1, most: 4 },
  ratio: { least: 0, most: 10 },
  share: { least: 0, most: 1 },
  factor: { least: -20, most: 20 },
  mm: { least: -1000, most: 1000 },
  setting: { least: -1000, most: 1000 },
} as const;
