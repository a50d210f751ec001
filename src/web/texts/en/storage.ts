import { KEPT } from '../../../capture/journal/diskProblem.ts'

/** What is said of the browser’s storage where it refuses. Keys are the codes of a disk’s errors. */
export const storageTexts = {
  name: 'the browser’s storage',
  roomCure: 'Free some space on this device. Or save everything as one file and make room in the browser.',
  meanings: {
    ENOSPC: [
      `the browser’s storage is full. ${KEPT}`,
      'Free some space on this device: writing is tried again every second. Leave this page open until it has caught up.',
    ],
    EIO: [
      `the browser does not write to its storage. ${KEPT}`,
      'Leave this page open: it is tried again every second. Where it stays so, finish the recording and save it as a file.',
    ],
    ESHRUNK: [
      `the browser has taken a part of the journal away. ${KEPT}`,
      'Finish the recording, and save it as a file before this page is closed.',
    ],
    EEXIST: ['another window of this browser writes this journal.', 'Close the other window.'],
    ENOENT: ['it is not in the browser’s storage any more.', 'Its data may have been cleared.'],
  } as Readonly<Record<string, readonly [what: string, cure: string]>>,
}
