export interface Mutant {
  readonly file: string
  readonly kind: 'arithmetic' | 'comparison' | 'logic' | 'constant' | 'step' | 'call'
  readonly start: number
  readonly end: number
  readonly now: string
  readonly line: number
  readonly was: string
  /** Which of the changes of this kind, from this text to that one, in the order of the file; from 1. */
  readonly nth: number
}
export declare function mutantsOf(file: string, text: string): Mutant[]
export declare function codeOf(file: string, text: string): string
export declare function idOf(mutant: Mutant): string
export declare function sampleOf(mutants: readonly Mutant[], seed: number | string, count: number): Mutant[]
export declare function folderOf(file: string): string
export declare function hashOf(text: string): string
