import { PREVIEW_FRAME } from '../../publish/report/previewFrame.ts'

/** Long enough for a person to have chosen a printer: the frame must stay until then. */
const KEPT_MS = 600_000

/** Prints a report by the browser: in a frame of its own without rights, so that nothing else is on the paper. */
export function printPage(page: string): void {
  const frame = document.createElement('iframe')
  frame.setAttribute('sandbox', 'allow-scripts allow-modals')
  frame.setAttribute('aria-hidden', 'true')
  frame.tabIndex = -1
  frame.className = 'tell-printed'
  frame.srcdoc = PREVIEW_FRAME
  const hear = (event: MessageEvent) => {
    if (event.source !== frame.contentWindow) return
    if (event.data === 'ready') frame.contentWindow?.postMessage({ page }, '*')
    if (event.data === 'shown') frame.contentWindow?.postMessage({ print: true }, '*')
  }
  addEventListener('message', hear)
  document.body.append(frame)
  setTimeout(() => {
    removeEventListener('message', hear)
    frame.remove()
  }, KEPT_MS)
}
