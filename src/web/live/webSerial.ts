/** What is used of Web Serial (draft of the WICG, wicg.github.io/serial), which the compiler does not know yet. */
export interface WebSerialPort {
  readonly readable: ReadableStream<Uint8Array> | null
  readonly writable: WritableStream<Uint8Array> | null
  open(options: { baudRate: number; bufferSize: number }): Promise<void>
  close(): Promise<void>
  getInfo(): { readonly usbVendorId?: number; readonly usbProductId?: number }
}

export interface WebSerial {
  /** Asks the person; only from a press of a key or a button. Rejects where none is chosen. */
  requestPort(): Promise<WebSerialPort>
  /** Those that this page was given before and that are plugged in. */
  getPorts(): Promise<readonly WebSerialPort[]>
}

/** The browser's own serial ports; `null` where it has none, as in a page that is not from this computer. */
export const webSerial = (): WebSerial | null =>
  'serial' in navigator ? ((navigator as Navigator & { readonly serial?: WebSerial }).serial ?? null) : null

/** For people: browsers tell no more of a port than who made it. */
export function portName(port: WebSerialPort): string {
  const { usbVendorId, usbProductId } = port.getInfo()
  return usbVendorId === undefined || usbProductId === undefined
    ? 'not USB'
    : `USB ${hex(usbVendorId)}:${hex(usbProductId)}`
}

const hex = (id: number): string => id.toString(16).padStart(4, '0')
