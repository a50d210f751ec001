import type { RecordingPlan } from '../../capture/types.ts'
import { type Outcome, wrong } from '../../core/problem.ts'
import type { LiveDesk } from '../../server/desk/liveDesk.ts'

/**
 * Two windows never record into one study at once: whoever arms or starts holds the study, by a lock of the browser,
 * until nothing is armed or recorded any more. It goes with the window, however that ends.
 */
export function studyLock(desk: LiveDesk) {
  let release: (() => void) | null = null
  let heldFor: string | null = null
  /** A command is under way: what is armed again is not let go of in between. */
  let isBusy = false

  const isWanted = (): boolean => {
    const phase = desk.line().state?.phase
    return phase === 'armed' || phase === 'recording' || phase === 'rest'
  }
  const letGo = (): void => {
    release?.()
    release = null
    heldFor = null
  }
  // Every change of state is told to viewers.
  desk.hub.join({
    bufferedAmount: 0,
    send(text) {
      if (release !== null && !isBusy && text.startsWith('{"kind":"state"') && !isWanted()) letGo()
    },
    close: letGo,
    terminate: letGo,
  })

  const hold = (study: string): Promise<boolean> =>
    new Promise((resolve, reject) => {
      navigator.locks
        .request(`tenterhook records into ${study}`, { ifAvailable: true }, lock => {
          resolve(lock !== null)
          if (lock === null) return
          return new Promise<void>(done => {
            release = done
            heldFor = study
          })
        })
        .catch(reject)
    })

  return {
    /** Does it while the study of the plan is held. */
    async around<T>(plan: RecordingPlan, work: () => Promise<Outcome<T>>): Promise<Outcome<T>> {
      const { study } = plan.about
      if (study !== null && heldFor !== study) {
        letGo()
        if (!(await hold(study))) return wrong(otherWindow(study))
      }
      isBusy = true
      try {
        return await work()
      } finally {
        isBusy = false
        if (!isWanted()) letGo()
      }
    },
  }
}

const otherWindow = (study: string) => ({
  where: `study “${study}”`,
  what: 'another window of this browser is recording into it.',
  cure: 'Finish there, or close that window; then pull here.',
})
