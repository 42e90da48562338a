/**
 * A file of the player's, sent in parts.
 *
 * @typedef {import("./app.js").App} App
 */

const MOST = 4 * 1024 * 1024;
const PART = 32 * 1024; // Bytes, before they become text

/** @param {Uint8Array} bytes */
export function base64(bytes) {
  let text = "";
  for (const byte of bytes) {
    text += String.fromCharCode(byte);
  }
  return btoa(text);
}

/**
 * @param {App} app
 * @param {File} file
 * @param {string} [end] what it is for
 * @returns {Promise<any>} what the program makes of it
 */
export async function sendFile(app, file, end = "file end") {
  if (file.size > MOST) {
    throw new Error(
      `${file.name} is larger than 4 MiB, which is the most`,
    );
  }
  const bytes = new Uint8Array(await file.arrayBuffer());
  await app.ask("file begin");
  for (let at = 0; at < bytes.length; at += PART) {
    const part = base64(bytes.subarray(at, at + PART));
    await app.ask("file part", { base64: part });
  }
  return app.ask(end);
}
