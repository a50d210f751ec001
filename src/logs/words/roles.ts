/**
 * Words by which headers in several languages name their columns. Common usage of each language, no single
 * source.
 */

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
  /** A quantity that is none of these: a stress, a pressure, a voltage, a speed. */
  | 'other'
/**
 * How the column stands to the thing itself: `set-point` is wished for, `derived` is a maximum, mean or
 * filtered copy.
 */
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
      'weg hub pos position stroke travel disp course corsa carrera x dist distance xhead gap slag slaglengte väg vej droga yol',
      'displacement crosshead déplacement deplacement desplazamiento desplaz spostament desloc avance verplaats przemieszcz traverse verschieb путь перемещ 位移 行程 変位 ストローク 변위',
    ),
  ],
  [
    'time',
    vocabulary(
      't time zeit temps tiempo tempo tijd tid czas čas idő zaman aika laikas laiks aeg timp vrijeme χρόνος millis micros ms us µs elapsed clock stamp uhrzeit heure hora ora timestamp ts sec secs seconds время час',
      'timestamp runtime datetime zeit elapsed horodat 时间 時間 時刻 시간 시각 время',
    ),
  ],
  [
    'force',
    vocabulary(
      'f fx fy fz ft fn load loads force forces weight mass kraft last zug schub pull tension tensile traction effort charge poids poussée carga peso masa empuje empuxo tiro carico spinta massa forza força forca kracht gewicht siła sila síla erő kuvvet yük ağırlık voima kuorma jõud spēks jėga forța greutate sarcina vikt dragkraft δύναμη φορτίο thrust drag lift grip hold bite push compression peel friction scale cell loadcell lc hx711 net netto gross brutto tare tara reading gram grams kilogram kilograms kilos newton newtons pound pounds lbs lbf kgf kg вес масса тяга lực قوة وزن כוח',
      'force loadcell kraft fuerza gewicht weight newton thrust belastung trekkracht belasting obciąż obciaz zatíž terhelés сила усили нагруз 力 荷重 荷载 荷載 载荷 載荷 负荷 負荷 重量 张力 張力 힘 하중 장력 무게',
    ),
  ],
  [
    'other',
    vocabulary(
      'stress pressure druck volt volts voltage spannung torque moment speed velocity rpm pwm throttle current power angle humidity accel acceleration energy work modulus hall battery',
      'pressure moisture feuchte geschwindigk contrainte esfuerzo tensão spannung напряж давлен 应力 應力 応力 压力 圧力 압력 속도',
    ),
  ],
  [
    'index',
    vocabulary(
      '# no nr n° index idx sample samples i id seq sequence row rows zeile point pt num número lp cycle cycles step steps scan record rec pkt packet',
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
  // An axis letter beside other words says along what, not what: `force x` is a force.
  const telling = tokens.filter(token => !/^[xyz]$/.test(token))
  const asked = (telling.length > 0 ? telling : tokens).flatMap(withoutNumber)
  return ROLES.find(([, words]) => has(words, asked))?.[0] ?? null
}

/** `force1`, `lc2`: the word itself, and without the number of the channel. */
function withoutNumber(token: string): string[] {
  const bare = token.replace(/\d+$/, '')
  return bare === token || bare === '' ? [token] : [token, bare]
}

export function standingOf(tokens: readonly string[]): Standing {
  if (has(SET_POINT, tokens)) return 'set-point'
  if (has(DERIVED, tokens)) return 'derived'
  return has(ACTUAL, tokens) ? 'actual' : 'plain'
}
