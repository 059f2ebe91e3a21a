import type { Figure } from "../../figures/figure.js";

/** Picture points for each drawing unit in pictures that are saved or copied. */
const pointsPerUnit = 3;

/** A figure's specification as the command line writes it. */
export const specificationText = ({ specification }: Figure): string =>
  `${JSON.stringify(specification, null, 1)}\n`;

/** Puts a picture on the clipboard; it goes in as it is made, as a browser wants the request while the click counts. */
export const copyPicture = (png: Promise<Blob>): Promise<void> =>
  navigator.clipboard.write([new ClipboardItem({ "image/png": png })]);

/** An SVG drawing as a picture of points, made by the browser with the fonts it has. */
export const pictureOf = async (
  svg: string,
  width: number,
  height: number,
  scale = pointsPerUnit,
): Promise<Blob> => {
  const address = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
  try {
    const image = new Image(width, height);
    image.src = address;
    await image.decode();
    const canvas = document.createElement("canvas");
    canvas.width = Math.ceil(width * scale);
    canvas.height = Math.ceil(height * scale);
    canvas.getContext("2d")?.drawImage(image, 0, 0, canvas.width, canvas.height);
    return await new Promise((done, failed) =>
      canvas.toBlob(
        (blob) => (blob === null ? failed(new Error("the picture is too large")) : done(blob)),
        "image/png",
      ),
    );
  } finally {
    URL.revokeObjectURL(address);
  }
};
