/**
 * Loaded before a program (`node --import`): every way to the network throws, and each try is written to the file that
 * `NETWORK_LOG` names, as is the number of each thread that begins.
 */
import { appendFileSync } from 'node:fs';
import { createRequire, syncBuiltinESMExports } from 'node:module';
import { threadId } from 'node:worker_threads';

const require = createRequire(import.meta.url);
const log = process.env.NETWORK_LOG;

function refuse(what) {
  return () => {
    appendFileSync(log, `tried ${what}\n`);
    throw new Error(`the network is refused: ${what}`);
  };
}

/** Functions that open a socket, listen, or ask for a name. */
const ways = {
  net: ['connect', 'createConnection', 'createServer'],
  tls: ['connect', 'createServer'],
  dgram: ['createSocket'],
  http: ['request', 'get', 'createServer'],
  https: ['request', 'get', 'createServer'],
  http2: ['connect', 'createServer', 'createSecureServer'],
  dns: ['lookup', 'resolve', 'resolve4', 'resolve6', 'reverse', 'lookupService'],
  'dns/promises': ['lookup', 'resolve', 'resolve4', 'resolve6', 'reverse', 'lookupService'],
};
for (const [name, functions] of Object.entries(ways)) {
  const module = require(`node:${name}`);
  for (const one of functions) module[one] = refuse(`${name}.${one}`);
}
const { Socket, Server } = require('node:net');
Socket.prototype.connect = refuse('net.Socket.connect');
Server.prototype.listen = refuse('net.Server.listen');
globalThis.fetch = refuse('fetch');
syncBuiltinESMExports();

appendFileSync(log, `thread ${threadId}\n`);
