/**
 * The messages between the page and the program: `barter-page`, version 1.
 * Types only; nothing here runs.
 *
 * @typedef {{tick: number, length: number, pitch: number, velocity: number,
 *   grid_tick: number, role: string, ornament: boolean,
 *   resolved: boolean | null}} Note
 *
 * @typedef {{grid: string, swing_ratio: number | null,
 *   offset_ms: number | null, spread_ms: number | null}} Rhythm
 *
 * A turn of barter-report; `says` is of the player's turns, `move` and `why` of
 * the partner's.
 * @typedef {{index: number, by: "player" | "partner", start_tick: number,
 *   end_tick: number, first_bar: number,
 *   chords: {tick: number, symbol: string}[], notes: Note[], rhythm: Rhythm,
 *   space: number, success?: boolean | null, says?: string, move?: string,
 *   why?: string, landing?: {name: string} | null,
 *   early?: {name: string} | null}} Turn
 *
 * @typedef {{tick: number, x: number, y: number, w: number, h: number}} Mark
 * A note, in the units of the picture's viewBox: `x` and `w` are its own, `y` and
 * `h` those of the line that it stands on.
 * @typedef {{svg?: string, png?: string, marks?: Mark[], missing?: string,
 *   halves?: Staff}} Staff
 * `png`, in base64, is the same picture, which takes a browser less time;
 * `halves` has the same music on two lines.
 *
 * @typedef {{tick: number, at: number, tempo: number, running: boolean}} Place
 *
 * A row of the table of choices. `words`: the only words it takes; `among`:
 * what there is to choose from now (charts, feels, keys, sounds).
 * `when` it holds: now, or from the next session on.
 * @typedef {{name: string,
 *   type: "flag" | "words" | "whole" | "number" | "pitch" | "sound" | "text",
 *   unit?: string, least?: number, most?: number, help?: string,
 *   when?: "now" | "next",
 *   words?: string[] | null, among?: Choosable[] | null}} Row
 * @typedef {string | {value: string | number, words: string}} Choosable
 * @typedef {string | number | boolean} Value
 *
 * @typedef {{root: number, chord: number[], scale: number[]}} Tones
 *
 * @typedef {{by: "player" | "partner", first_bar: number, bars: number,
 *   silent: number}} Span
 *
 * A bar in which no chord begins is empty; the turns are those of all the times
 * through, from bar 1.
 * @typedef {{title: string, key: string, meter: [number, number],
 *   bar_ticks: number, beat_ticks: number,
 *   bars: {beat: number, symbol: string}[][], scale?: string,
 *   choruses: number, turns: Span[], tempo: number}} Form
 *
 * What is played live, where it is no trading.
 * @typedef {{number: number, of: number, name: string, words: string,
 *   staff?: Staff}} Live
 *
 * @typedef {{
 *   me: {plays: boolean, watchers: number},
 *   people: {chosen: string | null, list: {id: string, name: string}[]},
 *   choices: Record<string, {value: Value, source: string}>,
 *   table: Row[],
 *   form: Form | null,
 *   tones: Record<string, Tones>,
 *   session: {stands: "idle" | "count-in" | "plays" | "paused" | "over",
 *     kind?: "trade" | "warm-up" | "idea", exercise?: Live,
 *     name: string | null, worked?: string[], work_on?: string,
 *     next_time?: string},
 *   sound: {works: boolean, text: string},
 *   keyboard: {text: string},
 *   care: {text?: string | null},
 *   turns: Turn[],
 *   staves: Record<number, Staff>,
 *   place: Place,
 *   hears: Place,
 *   keys: {on: number[], off: number[]},
 *   said: {text: string, kind: string} | null,
 *   cut: boolean,
 *   aside: {text: string, kind: string} | null,
 * }} State
 */

/**
 * What places beside Play are answered.
 *
 * `session` {name}, and `file end`:
 * @typedef {{name: string, tempo: number, answered: boolean, form: Form,
 *   tones: Record<string, Tones>, turns: Turn[], notices: string[],
 *   worked: string[], work_on: string, next_time: string}} Session
 *
 * `sessions`: {list: SessionName[]}.
 * @typedef {{name: string, chart: string, key: string,
 *   tempo: number}} SessionName
 *
 * `hear` {name, turn?} and `hush` tell of the place by `place` with `hears`;
 * `keep` {name, turn}; `save` {name, kind}: a file.
 *
 * `ideas` {from: "kept" | "turn" | "last" | "new", name?, turn?, number?,
 * rung?, count?}: the developments; `idea hear`, `idea try`, `idea keep` {number}.
 * @typedef {{number: number, move: string, why: string, practise?: string,
 *   staff?: Staff, end_tick?: number}} Idea
 * @typedef {{words: string, staff?: Staff, ideas: Idea[]}} Ideas
 *
 * `notebook`: {ideas: Kept[]}; `idea rename` {number, name}, `idea remove`
 * {number}.
 * @typedef {{number: number, name: string, from: string, when?: string,
 *   staff?: Staff}} Kept
 *
 * `warmup` {minutes}; `warmup begin` {number?}, `warmup shorter`.
 * @typedef {{number: number, name: string, words: string, minutes: number,
 *   staff?: Staff}} Exercise
 * @typedef {{minutes: number, items: Exercise[]}} WarmUp
 *
 * `progress` {days}: a row of the table for each day, week or month.
 * @typedef {{from: string, days: number, minutes: number | null,
 *   landed: number | null, success: number | null, spread_ms: number | null,
 *   space: number | null, swing: number | null, rung?: number[]}} WayRow
 * @typedef {{words: string[], svg?: string | null,
 *   table: {grain: string, rows: WayRow[]},
 *   moves: {when: string, text: string}[], goals: string[]}} Way
 *
 * `people add` {name}: {id}; `people edit` {id}; `people set` {id, key, value};
 * `people export` {id}: a file; `people remove` {id, for_good?}: {days, path},
 * `people undo`: {id}; after `file begin` and `file part`, `people import look`:
 * {words: string[], is_other: boolean}, then `people import` {same?, apart?}:
 * {id}; `people class` {sort: "id" | "last" | "look"}: {list: Member[]}.
 * @typedef {{id: string, name: string, look: string, last: string | null,
 * is_known: boolean}} Member
 * @typedef {{id: string, rows: Row[], values: Record<string, Value>}} Person
 *
 * `sheet` {kind: "svg" | "pdf" | "all", chart?, key?, rung?, who?, rhythms?,
 * seed?}: {pages: string[], rung: string}, or a file; "all" is a file of
 * everybody's; with a number of `rhythms` it is a page of these.
 *
 * `charts`: {charts: {name, title, is_own}[]}; `chart read` {name}: {text};
 * `chart check` {text}: {form?: Form, faults: ChartFault[]}; `chart save` {name,
 * text}.
 * @typedef {{line: number, bar?: number | null, text: string}} ChartFault
 * A line of 0 is none: something is missing.
 *
 * A file: {file: its name, type, base64}.
 */

export {};
