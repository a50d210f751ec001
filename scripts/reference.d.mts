export declare const rooms: readonly string[]
export declare function referencePage(room: string): string
export declare function publicNames(index: string): { readonly name: string; readonly file: string }[]
export declare function examplesOf(file: string): Map<string, string>
