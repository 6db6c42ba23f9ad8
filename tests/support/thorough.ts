/**
 * Whether this run looks at everything. The quick suite walks the ways with scripts and looks at the daily pages; the
 * long one walks them without scripts too and looks at every page in every width and scheme.
 */
export const isThorough = process.env.THOROUGH === 'yes';

/** Scripts allowed or not, for the walks: the long suite has what the quick one leaves out. */
export const scriptCases = [{ hasScript: !isThorough }];
