// A file from the camera -> a picture of at most 1,600 pixels and about 300 KB, encoded anew: no place, no camera, no
// name survives. Runs in the page; the worker makes small pictures with it. Knows no day.
const LONGEST_PX = 1600;
const SMALL_PX = 176;
/** More than any telephone's camera; decoding it could end the tab. */
const PIXELS_LIMIT = 130e6;
const WANTED_BYTES = 300_000;
const QUALITIES = [0.86, 0.76, 0.64, 0.5];
const SMALL_QUALITY = 0.6;

export type Made = {
  octets: Uint8Array;
  small: Uint8Array | null;
  width_px: number;
  height_px: number;
};
export type MadeAnswer = Made | { refused: "not_a_photograph" | "too_many_pixels" };

type Drawable = ImageBitmap | HTMLImageElement;

/** Width and height within a longest side. */
function within(width: number, height: number, longest: number): [number, number] {
  const scale = Math.min(1, longest / Math.max(width, height));
  return [Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale))];
}

/** A canvas; browsers before 2023 have no other than the page's own. */
const blank = (width: number, height: number): OffscreenCanvas | HTMLCanvasElement =>
  typeof OffscreenCanvas === "undefined"
    ? Object.assign(document.createElement("canvas"), { width, height })
    : new OffscreenCanvas(width, height);

function asJpeg(canvas: OffscreenCanvas | HTMLCanvasElement, quality: number): Promise<Blob> {
  const type = "image/jpeg";
  if ("convertToBlob" in canvas) return canvas.convertToBlob({ type, quality });
  return new Promise((resolve, reject) => {
    canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new Error("no JPEG"))), type, quality);
  });
}

/** The picture drawn at a size and encoded as JPEG. */
async function encoded(
  drawn: Drawable,
  width: number,
  height: number,
  qualities: number[],
): Promise<Uint8Array> {
  const canvas = blank(width, height);
  const pen = canvas.getContext("2d") as OffscreenCanvasRenderingContext2D;
  pen.fillStyle = "#fff"; // what is clear in a drawing is paper, not black
  pen.fillRect(0, 0, width, height);
  pen.imageSmoothingQuality = "high";
  pen.drawImage(drawn, 0, 0, width, height);
  let octets = new Uint8Array();
  for (const quality of qualities) {
    const blob = await asJpeg(canvas, quality);
    octets = new Uint8Array(await blob.arrayBuffer());
    if (octets.length <= WANTED_BYTES) break;
  }
  return plain(octets);
}

/** A JPEG without what some browsers write into it of themselves: Exif, XMP, comments. Only what decoding needs stays. */
function plain(octets: Uint8Array): Uint8Array {
  const stays: Uint8Array[] = [octets.subarray(0, 2)];
  let place = 2;
  while (octets[place] === 0xff && octets[place + 1] !== 0xda) {
    const marker = octets[place + 1] ?? 0;
    const end = place + 2 + ((octets[place + 2] ?? 0) << 8) + (octets[place + 3] ?? 0);
    const is_other = marker === 0xfe || (marker > 0xe0 && marker < 0xf0);
    if (!is_other || marker === 0xe2 || marker === 0xee) stays.push(octets.subarray(place, end));
    place = end;
  }
  stays.push(octets.subarray(place));
  const made = new Uint8Array(stays.reduce((sum, one) => sum + one.length, 0));
  let at = 0;
  for (const one of stays) {
    made.set(one, at);
    at += one.length;
  }
  return made;
}

/** A small picture of one that is small enough already; null where this browser cannot. */
export async function smallOf(file: Blob): Promise<Uint8Array | null> {
  try {
    const bitmap = await createImageBitmap(file);
    const size = within(bitmap.width, bitmap.height, SMALL_PX);
    return await encoded(bitmap, ...size, [SMALL_QUALITY]);
  } catch (error) {
    console.warn("no small picture", error);
    return null;
  }
}

/** Its size is in its head: nothing is decoded for it. */
function sized(url: string): Promise<HTMLImageElement | null> {
  return new Promise((resolve) => {
    const image = new Image();
    image.onload = () => resolve(image.naturalWidth ? image : null);
    image.onerror = () => resolve(null);
    image.src = url;
  });
}

export async function makePicture(file: Blob): Promise<MadeAnswer> {
  const url = URL.createObjectURL(file);
  try {
    const image = await sized(url);
    if (!image) return { refused: "not_a_photograph" };
    if (image.naturalWidth * image.naturalHeight > PIXELS_LIMIT) return { refused: "too_many_pixels" };
    const [width_px, height_px] = within(image.naturalWidth, image.naturalHeight, LONGEST_PX);
    // Decoded at the size that is wanted where the browser can: a telephone's 48 million pixels stay out of the page.
    const drawn: Drawable = await createImageBitmap(file, {
      resizeWidth: width_px,
      resizeHeight: height_px,
      resizeQuality: "high",
    }).catch(() => image);
    const octets = await encoded(drawn, width_px, height_px, QUALITIES);
    const size = within(width_px, height_px, SMALL_PX);
    const small = await encoded(drawn, ...size, [SMALL_QUALITY]);
    if ("close" in drawn) drawn.close();
    return { octets, small, width_px, height_px };
  } catch (error) {
    console.warn("no picture was made", error);
    return { refused: "not_a_photograph" }; // a head that reads as a picture, and no picture behind it
  } finally {
    URL.revokeObjectURL(url);
  }
}
