/**
 * The description of the JSON API (OpenAPI 3.1), made of the schemas by which entries are read and answers are typed.
 */
import { apiTexts as say } from '../../../views/texts/programs/api.ts';
import {
  BuildFile,
  CountSending,
  CountState,
  ForecastOutline,
  LeversOutline,
  Manifest,
  OpenApi,
  ProblemAnswer,
  Sending,
  SendingAnswer,
  StepsToCount,
  schemaAsRead,
  WaysOutline,
} from '../../model/index.ts';

/** Where the description is served. */
export const OPENAPI_PATH = '/openapi.json';

type ErrorStatus = keyof typeof say.errors;

interface Operation {
  readonly method: 'get' | 'post';
  /** As the router has it: `/b/:id/steps.json`. */
  readonly path: string;
  readonly name: keyof typeof say.operations;
  /** Name of the shape of what is answered with 200; left out: it never is. */
  readonly answers?: keyof typeof SHAPES;
  readonly type?: string;
  /** `open` to anybody; with a key or in a session; or in a session alone. */
  readonly access: 'open' | 'keys' | 'sessions';
  readonly errors?: readonly ErrorStatus[];
}

/** The shapes by the names under which the description lists them. */
const SHAPES = {
  BuildFile,
  CountSending,
  CountState,
  Forecast: ForecastOutline,
  Levers: LeversOutline,
  Manifest,
  OpenApi,
  Problem: ProblemAnswer,
  Sending,
  SendingAnswer,
  StepsToCount,
  Ways: WaysOutline,
} satisfies Record<string, object>;

const OPERATIONS: readonly Operation[] = [
  { method: 'get', path: '/b/:id/steps.json', name: 'steps', answers: 'StepsToCount', access: 'keys', errors: ['503'] },
  {
    method: 'post',
    path: '/b/:id/entries',
    name: 'count',
    answers: 'SendingAnswer',
    access: 'keys',
    errors: ['400', '413', '415', '423', '503'],
  },
  {
    method: 'get',
    path: '/b/:id/count/now',
    name: 'counting',
    answers: 'CountState',
    access: 'sessions',
    errors: ['503'],
  },
  { method: 'get', path: '/b/:id/count/state', name: 'oldCounting', access: 'sessions', errors: ['410'] },
  {
    method: 'get',
    path: '/b/:id/count.webmanifest',
    name: 'manifest',
    answers: 'Manifest',
    type: 'application/manifest+json',
    access: 'sessions',
  },
  {
    method: 'get',
    path: '/b/:id/forecast.json',
    name: 'forecast',
    answers: 'Forecast',
    access: 'sessions',
    errors: ['503'],
  },
  { method: 'get', path: '/b/:id/file.json', name: 'file', answers: 'BuildFile', access: 'sessions' },
  { method: 'get', path: '/b/:id/levers.json', name: 'levers', answers: 'Levers', access: 'sessions' },
  { method: 'get', path: '/b/:id/ways.json', name: 'ways', answers: 'Ways', access: 'sessions' },
  { method: 'get', path: OPENAPI_PATH, name: 'openapi', answers: 'OpenApi', access: 'open' },
];

/** The whole description, of a version of Daywright. Shapes are named; every operation refers to them. */
export function openApi(version: string): object {
  const paths: Record<string, Record<string, object>> = {};
  for (const operation of OPERATIONS) {
    const path = operation.path.replace(/:(\w+)/g, '{$1}');
    paths[path] = { ...paths[path], [operation.method]: described(operation) };
  }
  return {
    openapi: '3.1.0',
    info: { title: say.title, description: say.about, version },
    paths,
    components: {
      schemas: schemaAsRead(SHAPES),
      securitySchemes: {
        key: { type: 'http', scheme: 'bearer', description: say.key },
        session: { type: 'apiKey', in: 'cookie', name: 'daywright', description: say.session },
      },
    },
  };
}

function described(operation: Operation): object {
  const { path, name, access } = operation;
  const parameters = [
    ...(path.includes(':id') ? [{ name: 'id', in: 'path', required: true, description: say.build, schema: TEXT }] : []),
    ...(name === 'counting' ? [{ name: 'mine', in: 'query', description: say.mine, schema: { type: 'integer' } }] : []),
  ];
  return {
    operationId: name,
    summary: say.operations[name],
    ...(name === 'oldCounting' ? { deprecated: true } : {}),
    ...(parameters.length === 0 ? {} : { parameters }),
    ...(name === 'count' ? { requestBody: counts() } : {}),
    responses: answersOf(operation),
    security: { open: [], keys: [{ key: [] }, { session: [] }], sessions: [{ session: [] }] }[access],
  };
}

function answersOf({ answers, type = 'application/json', access, errors = [], path }: Operation): object {
  const usual: ErrorStatus[] = access === 'open' ? ['421', '429'] : ['401', '403', '421', '429'];
  const all = [...errors, ...usual, ...(path.includes(':id') ? (['404'] as const) : [])].sort();
  const refusals = all.map((status) => [status, refusal(status)] as const);
  const isOutline = answers === 'Forecast' || answers === 'Levers' || answers === 'Ways';
  const fine = answers && {
    description: isOutline ? say.outline : say.answer,
    content: { [type]: { schema: reference(answers) } },
  };
  return { ...(fine === undefined ? {} : { 200: fine }), ...Object.fromEntries(refusals) };
}

function refusal(status: ErrorStatus): object {
  const retry = { 'retry-after': { schema: { type: 'integer' } } };
  return {
    description: say.errors[status],
    ...(status === '423' || status === '429' || status === '503' ? { headers: retry } : {}),
    content: { 'application/json': { schema: reference('Problem') } },
  };
}

function reference(name: keyof typeof SHAPES): object {
  return { $ref: `#/components/schemas/${name}` };
}

const TEXT = { type: 'string' };

function counts(): object {
  const schema = { anyOf: [reference('CountSending'), reference('Sending')] };
  return { required: true, description: say.countsOnly, content: { 'application/json': { schema } } };
}
