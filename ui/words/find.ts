/** Words of looking a part up that stand on every page. */
export const findNames = {
  title: 'Find a part',
  act: 'Find',
  box: 'Find a part',
  boxKey: 'Find a part (Ctrl K)',
};
