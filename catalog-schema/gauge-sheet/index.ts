export { drawCheckBars, FOOT_MM, SIDE_MM } from './check-bars.ts';
export { layOutGaugeSheet, type GaugePage } from './lay-out-gauge-sheet.ts';
export { boxOfMark, widthOfWords, type Box, type Mark } from './mark.ts';
export { LINE_MM, PAPERS, PAPER_NAMES, MARGIN_MM, type PaperName } from './paper.ts';
