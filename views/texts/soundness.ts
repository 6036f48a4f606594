/** The words around the checks of the plan. */
export const soundnessTexts = {
  heading: 'Is the plan sound?',
  allPassed: (checks: number) => `Yes: ${checks} checks passed.`,
  found: (found: number, passed: number, checks: number) =>
    `${found === 1 ? '1 thing' : `${found} things`} to look at, ${passed} of ${checks} checks passed`,
  elsewhere: (n: number) =>
    n === 1
      ? '1 more stands among the problems or the threats already.'
      : `${n} more stand among the problems or the threats already.`,
  toStep: (step: string) => `See ${step}`,
};
