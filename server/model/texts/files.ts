/** What is wrong with a file that should hold a build. */
export const fileTexts = {
  unreadable: (name: string, language: 'JSON' | 'YAML', why: string) => `${name} is not ${language}: ${why}.`,
  tooDeep: 'it is nested too deeply',
  sameKey: (key: string) => `Map keys must be unique; "${key}" is there twice`,
  tooLarge: (name: string, megabytes: number, most: number) =>
    `The build in ${name} has ${megabytes} MB; a build has at most ${most} MB without its log. Split it into several builds.`,
  tooLongForYaml: (name: string, values: number, most: number) =>
    `${name} is too long to be read as YAML (about ${values.toLocaleString('en-GB')} values, at most ${most.toLocaleString('en-GB')}). Write it as JSON.`,
  tooSlow: (name: string, seconds: number, megabytes: number) =>
    `${name} takes more than ${seconds} seconds of work or ${megabytes} MB of memory to be read. Leave out what is not the build, or write it as JSON.`,
} as const;
