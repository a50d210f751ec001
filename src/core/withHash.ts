/** A recording, or what a reading says of it. */
interface Hashed {
  readonly sha256: string
  readonly segments: readonly { readonly sha256: string }[]
}

/** What comes of one log whose SHA-256 is known now: it stands with the whole and with every segment. */
export const withHash = <T extends Hashed>(recording: T, sha256: string): T => ({
  ...recording,
  sha256,
  segments: recording.segments.map(segment => ({ ...segment, sha256 })),
})
