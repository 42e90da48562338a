/**
 * What every place of the page stands on.
 *
 * @typedef {{wire: import("./wire.js").Wire | null,
 *   clock: import("./clock.js").Clock,
 *   store: import("./state.js").Store,
 *   ask: (name: string, fields?: object,
 *     progress?: (done: number) => void) => Promise<any>,
 *   notice: (text: string) => void,
 *   done: (text?: string) => void,
 *   remind: (text: string) => void,
 *   tell: (text: string) => void,
 *   go: (place: string) => void,
 *   brought: File | undefined}} App
 *
 * `ask` answers, or says what is wrong as a notice and rejects; `notice` says
 * what is wrong until something is done, or one goes elsewhere, `done` what is
 * done, `remind` what stays until it is closed; `tell` is for those who listen to
 * the page; `brought` is a file for Look back, until it takes it.
 *
 * A place: its element, what is done when it is gone to, and when it is left.
 * @typedef {{element: HTMLElement, enter?: (...details: string[]) => void,
 *   leave?: () => void}} PlaceView
 */

export {};
