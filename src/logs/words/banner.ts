/** What a device says when it starts; between samples it means a new zero of time. */
export const BANNER =
  /\b(?:re-?boot|re-?start|boot(?:ing|ed)?|reset|power[- ]?(?:on|up)|start(?:ing|ed|up)|init(?:ial\p{L}*)?|setup|ready)\b/iu
