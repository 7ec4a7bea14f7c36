import type { Page } from 'playwright-core'

type Box = NonNullable<Parameters<Page['screenshot']>[0]>['clip']

/**
 * Relative luminance of what the page shows, mean over its pixels, 0..1 (WCAG 2.2).
 *
 * @param clip a part of it; else all that is in sight
 * @param reader a page that works it out where the page itself runs no script
 */
export async function meanLuminance(page: Page, clip?: Box, reader = page): Promise<number> {
  const options = clip === undefined ? {} : { clip }
  const png = (await page.screenshot({ scale: 'css', ...options })).toString('base64')
  return reader.evaluate(async (data) => {
    const bytes = Uint8Array.from(atob(data), (c) => c.charCodeAt(0))
    const picture = await createImageBitmap(new Blob([bytes], { type: 'image/png' }))
    const context = new OffscreenCanvas(picture.width, picture.height).getContext('2d')!
    context.drawImage(picture, 0, 0)
    const codes = context.getImageData(0, 0, picture.width, picture.height).data
    const linear = (code: number) => {
      const v = code / 255
      return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4
    }
    const luminanceOf = Float64Array.from({ length: 256 }, (_, code) => linear(code))
    let sum = 0
    for (let i = 0; i < codes.length; i += 4)
      sum +=
        0.2126 * luminanceOf[codes[i]!]! +
        0.7152 * luminanceOf[codes[i + 1]!]! +
        0.0722 * luminanceOf[codes[i + 2]!]!
    return (4 * sum) / codes.length
  }, png)
}
