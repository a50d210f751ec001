export interface Mutant {
  readonly file: string
  readonly kind: 'arithmetic' | 'comparison' | 'logic' | 'constant' | 'step' | 'call'
  readonly start: number
  readonly end: number
  readonly now: string
  readonly line: number
  readonly was: string
}
export declare function mutantsOf(file: string, text: string): Mutant[]
export declare function idOf(mutant: Mutant): string
export declare function sampleOf(mutants: readonly Mutant[], seed: number | string, count: number): Mutant[]
export declare function folderOf(file: string): string
export declare function hashOf(text: string): string
