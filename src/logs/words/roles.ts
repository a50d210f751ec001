/** Words by which headers in several languages name their columns. Common usage of each language, no single source. */

export type Role =
  | 'time'
  | 'date'
  | 'force'
  | 'extension'
  | 'travel'
  | 'temperature'
  | 'index'
  | 'unit'
  | 'note'
/** How the column stands to the thing itself: `set-point` is wished for, `derived` is a maximum, mean or filtered copy. */
export type Standing = 'actual' | 'plain' | 'derived' | 'set-point'

interface Vocabulary {
  /** Whole words, folded. */
  readonly words: ReadonlySet<string>
  /** Parts of a word: long stems, and scripts without blanks between words. */
  readonly stems: readonly string[]
}

const vocabulary = (words: string, stems: string): Vocabulary => ({
  words: new Set(words.split(' ')),
  stems: stems.split(' '),
})

/** In the order of asking: `temperature` before `temps`, a date before a time. */
const ROLES: readonly (readonly [Role, Vocabulary])[] = [
  ['temperature', vocabulary('temp', 'temperat températ темпер 温度 溫度 온도')],
  ['date', vocabulary('date datum fecha data day дата', '日期 年月日 날짜')],
  [
    'extension',
    vocabulary(
      'ext elong stretch strain',
      'extension elongat verlänger verlaenger dehnung allongement alargamiento allungament alongament wydłuż wydluz verleng удлин 伸长 伸長 伸び 신장',
    ),
  ],
  [
    'travel',
    vocabulary(
      'weg hub pos position stroke travel disp course corsa carrera x dist distance xhead',
      'displacement crosshead déplacement deplacement desplazamiento spostament desloc verplaats przemieszcz traverse verschieb путь перемещ 位移 行程 変位 ストローク 변위',
    ),
  ],
  [
    'time',
    vocabulary(
      't time zeit temps tiempo tempo tijd tid czas čas idő zaman aika millis micros ms us µs elapsed clock stamp uhrzeit heure hora ora timestamp ts sec secs seconds время',
      'timestamp zeitstempel uhrzeit zeitpunkt messzeit prüfzeit elapsed horodat 时间 時間 時刻 시간 시각 время',
    ),
  ],
  [
    'force',
    vocabulary(
      'f load force weight mass kraft last zug pull tension tensile traction effort charge poids carga peso tiro carico forza força forca kracht gewicht siła sila síla erő kuvvet voima scale cell loadcell reading вес',
      'force kraft fuerza zugkraft gewicht weight newton belastung trekkracht belasting obciąż obciaz zatíž terhelés сила усили нагруз 力 荷重 荷载 荷載 载荷 載荷 负荷 負荷 重量 张力 張力 힘 하중 장력 무게',
    ),
  ],
  [
    'index',
    vocabulary(
      '# no nr n° index idx sample samples i id seq sequence row zeile point pt num número lp',
      '序号 番号 번호 №',
    ),
  ],
  ['unit', vocabulary('unit units uom einheit unité unidad unità', '单位 単位 單位')],
  [
    'note',
    vocabulary(
      'note notes comment comments remark event marker bemerkung kommentar status state',
      '备注 備考',
    ),
  ],
]

const SET_POINT = vocabulary(
  'set sp target command cmd demand soll ref reference wanted goal cible consigne consigna objetivo',
  'setpoint set-point sollwert sollkraft vorgabe zielwert target 目标 目標 设定 設定 задан устав',
)
const DERIVED = vocabulary(
  'max min peak maximum minimum avg average mean filt filtered smooth smoothed spitze pico picco crête tare tara gross brutto',
  'maximal spitzen 最大 最小 平均 ピーク пик макс',
)
const ACTUAL = vocabulary(
  'actual act ist measured meas real true current live net netto mesure mesurée medida misurata gemessen',
  'istwert istkraft gemessen 实际 實際 実測 实测 факт',
)

const has = ({ words, stems }: Vocabulary, tokens: readonly string[]): boolean =>
  tokens.some(token => words.has(token) || stems.some(stem => token.includes(stem)))

/** The role that the words of a header name, or `null`. `tokens` are folded to lower case. */
export function roleOf(tokens: readonly string[]): Role | null {
  return ROLES.find(([, words]) => has(words, tokens))?.[0] ?? null
}

export function standingOf(tokens: readonly string[]): Standing {
  if (has(SET_POINT, tokens)) return 'set-point'
  if (has(DERIVED, tokens)) return 'derived'
  return has(ACTUAL, tokens) ? 'actual' : 'plain'
}
