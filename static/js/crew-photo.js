// A photo is made small before it is kept: a phone's own would take minutes to send from a hill, and
// carries where it was taken. Redrawing leaves that behind.
const SIDES = [1600, 1280, 1024, 800];
const QUALITIES = [0.8, 0.65, 0.5];
export const PHOTO_BYTES = 200 * 1024;

async function decode(file) {
  if (self.createImageBitmap) {
    try {
      return await createImageBitmap(file);
    } catch {
      // an older phone decodes some kinds only in an image element
    }
  }
  const image = new Image();
  image.src = URL.createObjectURL(file);
  await image.decode();
  return image;
}

function draw(image, side) {
  const scale = Math.min(1, side / Math.max(image.width, image.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(image.width * scale));
  canvas.height = Math.max(1, Math.round(image.height * scale));
  canvas.getContext("2d").drawImage(image, 0, 0, canvas.width, canvas.height);
  return canvas;
}

export async function shrink(file) {
  const image = await decode(file);
  let least = null;
  for (const side of SIDES) {
    const canvas = draw(image, side);
    for (const quality of QUALITIES) {
      const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", quality));
      if (!blob) throw new Error("no picture");
      if (!least || blob.size < least.size) least = blob;
      if (blob.size <= PHOTO_BYTES) return blob;
    }
  }
  return least;
}
