/**
 * A picture as PNG, for channels that show no SVG. Lettering comes from two fonts that are installed with the program,
 * so that a picture looks the same on every machine; without them words would silently be missing.
 */
import { createRequire } from 'node:module';
import { FONT_FAMILY, WIDTH } from '../pictures/picture.js';

const require = createRequire(import.meta.url);

/**
 * Renders an SVG document. The renderer is loaded with the first picture, so that a start without one stays fast.
 * @param width of the PNG in px; twice the picture's own where nothing else is asked, for sharp lettering on a phone
 * @throws Error when a font is not installed or the SVG cannot be read
 */
export async function png(svg: string, width = 2 * WIDTH): Promise<Buffer> {
  const { Resvg } = await import('@resvg/resvg-js');
  const drawing = new Resvg(svg, {
    fitTo: { mode: 'width', value: width },
    font: {
      loadSystemFonts: false,
      fontFiles: [
        require.resolve('dejavu-fonts-ttf/ttf/DejaVuSans.ttf'),
        require.resolve('dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf'),
      ],
      defaultFontFamily: FONT_FAMILY,
    },
  });
  return drawing.render().asPng();
}
