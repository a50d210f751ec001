/** A serial port as the system tells of it. */
export interface PortInfo {
  readonly path: string
  readonly manufacturer: string | null
  readonly serialNumber: string | null
  /** USB numbers of maker and product, hexadecimal. */
  readonly vendorId: string | null
  readonly productId: string | null
}
