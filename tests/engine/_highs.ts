/** The linear solver of the tests. Its types describe a CommonJS module while it is loaded as an ES one. */
import * as highsModule from 'highs';

type Load = (typeof highsModule)['default'];
const load = (highsModule as { default: unknown }).default as Load extends { default: infer F } ? F : Load;

export const highs = await load();
