export const OTHERS = {};
