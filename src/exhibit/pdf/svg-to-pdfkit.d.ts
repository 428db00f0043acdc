declare module "svg-to-pdfkit" {
  /** Draws an SVG text with its upper left corner at x, y, in points. */
  export default function svgToPdf(
    document: PDFKit.PDFDocument,
    svg: string,
    x: number,
    y: number,
    options: {
      width: number;
      height: number;
      assumePt: boolean;
      preserveAspectRatio: string;
      fontCallback: (family: string, bold: boolean, italic: boolean) => string;
      warningCallback: (warning: string) => void;
    },
  ): void;
}
