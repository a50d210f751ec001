/** An SVG with its typeface inside as a PNG, `scale` pixels to one of its own; by the browser's own renderer. */
export async function toPng(svg: string, scale: number): Promise<Uint8Array> {
  const address = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }))
  try {
    const image = new Image()
    image.src = address
    await image.decode()
    const canvas = document.createElement('canvas')
    canvas.width = Math.round(image.naturalWidth * scale)
    canvas.height = Math.round(image.naturalHeight * scale)
    const context = canvas.getContext('2d')
    if (context === null) throw new Error('the browser gives no canvas of this size')
    context.drawImage(image, 0, 0, canvas.width, canvas.height)
    const blob = await new Promise<Blob | null>(done => canvas.toBlob(done, 'image/png'))
    if (blob === null) throw new Error('the browser made no PNG of this figure')
    return new Uint8Array(await blob.arrayBuffer())
  } finally {
    URL.revokeObjectURL(address)
  }
}
