// A program that is not there: serves the page's files and plays a session of
// its own invention over `barter-page`, version 1, as far as a look at the page
// needs it. For tests and for work on the page's files; it knows no music.
//
//   node fake.mjs [PORT] prints the address.

import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { answers } from "./fake-answers.mjs";

const FILES = fileURLToPath(
  new URL("../../responder/page/files/", import.meta.url),
);
const KEY = "0123456789abcdef0123456789abcdef";
const TYPES = {
  ".html": "text/html; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".svg": "image/svg+xml",
};
const POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; " +
  "img-src 'self' blob: data:; connect-src 'self'; base-uri 'none'; " +
  "form-action 'none'; frame-ancestors 'none'";

async function serve(request, response) {
  const path = new URL(request.url, "http://localhost").pathname;
  const name = path === "/" ? "index.html" : path.slice(1);
  try {
    if (!/^[\w-]+\.\w+$/.test(name)) {
      throw new Error("no such file");
    }
    const body = await readFile(join(FILES, name));
    response.writeHead(200, {
      "Content-Type": TYPES[extname(name)],
      "Content-Security-Policy": POLICY,
      "Cache-Control": "no-store",
    });
    response.end(body);
  } catch {
    response.writeHead(404).end();
  }
}

// RFC 6455, as little as a test needs: whole text frames

function frame(text) {
  const body = Buffer.from(text);
  const n = body.length;
  const head =
    n < 126
      ? Buffer.from([0x81, n])
      : n < 65536
        ? Buffer.from([0x81, 126, n >> 8, n & 255])
        : Buffer.from([0x81, 127, 0, 0, 0, 0, n >>> 24, (n >> 16) & 255,
            (n >> 8) & 255, n & 255]);
  return Buffer.concat([head, body]);
}

/** Cut whole frames off what has come; returns what is left. */
function unframe(bytes, hear) {
  for (;;) {
    const short = bytes[1] & 127;
    const at = short === 126 ? 4 : short === 127 ? 10 : 2;
    if (bytes.length < at + 4) {
      return bytes;
    }
    const n =
      short === 126
        ? bytes.readUInt16BE(2)
        : short === 127
          ? Number(bytes.readBigUInt64BE(2))
          : short;
    if (bytes.length < at + 4 + n) {
      return bytes;
    }
    const mask = bytes.subarray(at, at + 4);
    const body = Buffer.from(bytes.subarray(at + 4, at + 4 + n));
    body.forEach((byte, i) => {
      body[i] = byte ^ mask[i & 3];
    });
    if ((bytes[0] & 15) === 1) {
      hear(body.toString());
    }
    bytes = bytes.subarray(at + 4 + n);
  }
}

function upgrade(request, socket, options) {
  const accept = createHash("sha1")
    .update(`${request.headers["sec-websocket-key"]}258EAFA5-E914-47DA-95CA-C5AB0DC85B11`)
    .digest("base64");
  socket.write(
    "HTTP/1.1 101 Switching Protocols\r\nUpgrade: websocket\r\n" +
      `Connection: Upgrade\r\nSec-WebSocket-Accept: ${accept}\r\n` +
      "Sec-WebSocket-Protocol: barter-page-1\r\n\r\n",
  );
  const send = (message) => {
    if (!socket.destroyed) {
      socket.write(frame(JSON.stringify(message)));
    }
  };
  options.sends.add(send);
  const answer = answers(send, KEY, options);
  let rest = Buffer.alloc(0);
  socket.on("data", (bytes) => {
    rest = unframe(Buffer.concat([rest, bytes]), (text) => answer(JSON.parse(text)));
  });
  socket.on("error", () => socket.destroy());
}

/**
 * @param {{port?: number, heard?: object[], isMiddle?: boolean}} wanted `heard`:
 * every message that comes is put here; `isMiddle`: opened in a session
 */
export function begin({ port = 0, heard = [], isMiddle = false } = {}) {
  const options = { heard, isMiddle, sends: new Set() };
  const server = createServer(serve);
  const sockets = new Set();
  server.on("connection", (socket) => sockets.add(socket));
  server.on("upgrade", (request, socket) => upgrade(request, socket, options));
  return new Promise((done) => {
    server.listen(port, "127.0.0.1", () => {
      done({
        address: `http://127.0.0.1:${server.address().port}/#${KEY}`,
        heard,
        tell: (message) => options.sends.forEach((send) => send(message)),
        drop: () => sockets.forEach((socket) => socket.destroy()),
        end: () => {
          sockets.forEach((socket) => socket.destroy());
          server.close();
        },
      });
    });
  });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  console.log((await begin({ port: Number(process.argv[2] ?? 0) })).address);
}
