/** Draws an SVG with stated width and height into a PNG at twice its size. */
export async function pngOfSvg(
  svg: string,
  colorSpace: PredefinedColorSpace = 'srgb',
): Promise<Blob> {
  const url = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }))
  try {
    const image = new Image()
    image.src = url
    await image.decode()
    const canvas = document.createElement('canvas')
    canvas.width = 2 * image.naturalWidth
    canvas.height = 2 * image.naturalHeight
    canvas.getContext('2d', { colorSpace })?.drawImage(image, 0, 0, canvas.width, canvas.height)
    return await new Promise((resolve, reject) =>
      canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new Error('no picture')))),
    )
  } finally {
    URL.revokeObjectURL(url)
  }
}
