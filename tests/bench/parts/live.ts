/** The stream of changes of a build, as an open page listens to it. */
import { get } from 'node:http';

export interface Live {
  /** Waits for the next change, or answers at once where one has come since it was last asked. */
  event(): Promise<void>;
  /** What came until now is not asked for. */
  forget(): void;
  /** Changes that came since it was opened. */
  come(): number;
  close(): void;
}

/** Opens the stream of `build` at the server on `port`. */
export function listen(port: number, build: string): Promise<Live> {
  let unread = 0;
  let all = 0;
  let wake = (): void => undefined;
  return new Promise((resolve, reject) => {
    const headers = { accept: 'text/event-stream' };
    const asking = get({ host: '127.0.0.1', port, path: `/b/${build}/live`, headers }, (response) => {
      response.on('data', (chunk: Buffer) => {
        const more = chunk.toString().split('event: changed').length - 1;
        unread += more;
        all += more;
        if (unread > 0) wake();
      });
      response.on('error', () => undefined);
      resolve({
        event: () =>
          new Promise((heard) => {
            wake = () => {
              unread = 0;
              wake = () => undefined;
              heard();
            };
            if (unread > 0) wake();
          }),
        forget: () => {
          unread = 0;
        },
        come: () => all,
        close: () => asking.destroy(),
      });
    });
    asking.on('error', reject);
  });
}
