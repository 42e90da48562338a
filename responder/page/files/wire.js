/**
 * The channel to the program: requests that are answered, events that are told,
 * keys that are played.
 *
 * @typedef {(message: any) => void} Listener
 * @typedef {{answer: (answer: any) => void, fault: (fault: Fault) => void,
 *   progress?: (done: number) => void}} Waiting
 */

const MOST = 65536; // Bytes of a message; the program closes on a longer one
export const CUT = "Barter is not connected: look again, or start it again.";

/** What the program says no to, and which field is at fault. */
export class Fault extends Error {
  /**
   * @param {string} text
   * @param {string | null} field
   */
  constructor(text, field) {
    super(text);
    this.field = field;
  }
}

export class Wire {
  /**
   * @param {string} address
   * @param {Listener} told
   * @param {(why: string) => void} closed
   */
  constructor(address, told, closed) {
    this.told = told;
    this.n = 0;
    /** @type {Map<number, Waiting>} */
    this.waiting = new Map();
    this.why = "";
    this.socket = new WebSocket(address, "barter-page-1");
    this.socket.addEventListener("message", (e) => this.hear(e.data));
    this.socket.addEventListener("close", (e) => {
      const why = this.why || e.reason || "";
      this.waiting.forEach((w) => w.fault(new Fault(why || "closed", null)));
      this.waiting.clear();
      closed(why);
    });
  }

  /** @returns {Promise<void>} */
  ready() {
    return new Promise((done) => {
      this.socket.addEventListener("open", () => done());
    });
  }

  /** @param {string} text */
  hear(text) {
    const message = JSON.parse(text);
    const waiting = this.waiting.get(message.n);
    if (message.tell === "progress") {
      waiting?.progress?.(message.done);
    } else if (message.tell) {
      this.why = message.tell === "close" ? message.why : this.why;
      this.told(message);
    } else if (waiting) {
      this.waiting.delete(message.n);
      if (message.fault) {
        waiting.fault(new Fault(message.fault.text, message.fault.field));
      } else {
        waiting.answer(message.answer);
      }
    }
  }

  /** @param {string} text */
  send(text) {
    if (this.socket.readyState === WebSocket.OPEN) {
      this.socket.send(text);
    }
  }

  /**
   * @param {string} name
   * @param {object} [fields]
   * @param {(done: number) => void} [progress]
   * @returns {Promise<any>} rejects with a Fault
   */
  ask(name, fields = {}, progress) {
    const n = ++this.n;
    return new Promise((answer, fault) => {
      const text = JSON.stringify({ n, ask: name, ...fields });
      const isLong = new TextEncoder().encode(text).length > MOST;
      if (isLong || this.socket.readyState !== WebSocket.OPEN) {
        fault(new Fault(isLong ? "That is too long." : CUT, null));
        return;
      }
      this.waiting.set(n, { answer, fault, progress });
      this.send(text);
    });
  }

  /**
   * @param {"on" | "off" | "none"} play
   * @param {number} at ms by the server's clock
   * @param {number} [pitch]
   * @param {number} [velocity]
   */
  key(play, at, pitch, velocity) {
    this.send(JSON.stringify(
      play === "none" ? { play, at } : { play, pitch, velocity, at },
    ));
  }
}
