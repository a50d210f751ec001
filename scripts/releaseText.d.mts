export declare const NEXT: string
export declare function comesAfter(version: string, before: string): boolean
export declare function releasedChangelog(changelog: string, version: string, day: string): string | null
export declare function versionFile(text: string, version: string): string | null
