import compress from '@fastify/compress';
import files from '@fastify/static';
import Fastify from 'fastify';
import type { Socket } from 'node:net';
import { HEADERS } from '../../src/ui/hosting.ts';

/** A folder served as a web host serves it: compressed, with the headers of the README. */
export interface Host {
  readonly url: string;
  /** Bytes that left it so far, heads of answers among them. */
  sentBytes(): number;
  close(): Promise<void>;
}

export async function serveCompressed(folder: string): Promise<Host> {
  const app = Fastify({ forceCloseConnections: true });
  const sockets = new Set<Socket>();
  let before = 0;
  app.server.on('connection', (socket: Socket) => {
    sockets.add(socket);
    socket.on('close', () => {
      sockets.delete(socket);
      before += socket.bytesWritten;
    });
  });
  await app.register(compress, { threshold: 1024 });
  await app.register(files, {
    root: folder,
    setHeaders: (reply) => {
      for (const [name, value] of Object.entries(HEADERS)) void reply.header(name, value);
    },
  });
  const url = `${await app.listen({ host: '127.0.0.1', port: 0 })}/`;
  return {
    url,
    sentBytes: () => [...sockets].reduce((sum, { bytesWritten }) => sum + bytesWritten, before),
    close: () => app.close(),
  };
}
