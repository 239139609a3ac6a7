/** The words printed on the sheet. Plain letters only: the bundled typeface holds the Latin set. */
export const GAUGE_WORDS = {
  title: 'Bench gauge sheet',
  page: (number: number, of: number, paper: string): string => `${paper}, page ${number} of ${of}`,
  scale: 'Print at 100 %, "actual size", never "fit to page". Measure both bars: 100 mm each.',
  wrong: 'If a bar is off, every gauge on this page is wrong: do not use it.',
  bar100: '100 mm',
  bar4: '4 in',
  how: [
    'First measure the bar across the foot and the bar down the left edge with a steel rule. Both must be 100 mm',
    'within half a millimetre: a printer may stretch one way and not the other. A wrong scale makes every gauge wrong.',
    'The middle of a line is the size. Lay the part flat and look straight down on it. Paper tells sizes half a',
    'millimetre apart, no closer: it does not tell M8 from 5/16 by diameter. Take the thread comb for that, or calipers.',
  ],
  sections: {
    metricHoles: ['Holes for metric bolts', 'Lay the hole over the circle: the whole line just shows inside. Medium clearance holes.'],
    inchHoles: ['Holes for inch bolts', 'As above. Normal clearance holes.'],
    metricStuds: ['Metric studs', 'Stand the stud or bolt end on the circle: no more than the line shows around it.'],
    inchStuds: ['Inch studs', 'As above. A worn or plated thread comes out a little smaller than its name.'],
    tabs: ['Flat tabs', 'Lay the tab on the upper outline for its width; hold its end to the bar below for its thickness.'],
    metricHexagons: ['Hexagons, metric', 'Lay the nut or head on the hexagon: its flats stand on the lines. Width across flats, with the threads it goes on.'],
    inchHexagons: ['Hexagons, inch', 'As above, in inches.'],
    metricCombs: ['Thread combs, metric', 'Lay the stud along the teeth: every crest meets a valley from end to end, or it is another pitch. Compare the whole length.'],
    inchCombs: ['Thread combs, inch', 'As above. The number is threads to the inch.'],
  },
  pitches: (count: number, lengthMm: string): string => `${count} teeth in ${lengthMm} mm`,
} as const;
