// A photograph is larger than any page shows it: what waits for a thin line is made smaller.
"use strict";

(() => {
  const LARGE_BYTES = 2e6;
  const LONGEST_PX = 2000;

  window.rowbookMadeSmaller = async (entry) => {
    let some = false;
    for (const pair of entry.fields) {
      const smaller = await smallerPicture(pair[1]);
      some ||= smaller !== pair[1];
      pair[1] = smaller;
    }
    return some;
  };

  async function smallerPicture(file) {
    if (!(file instanceof Blob) || file.size < LARGE_BYTES || !file.type.startsWith("image/")) return file;
    try {
      const picture = await createImageBitmap(file);
      const scale = Math.min(1, LONGEST_PX / Math.max(picture.width, picture.height));
      const canvas = document.createElement("canvas");
      [canvas.width, canvas.height] = [Math.round(picture.width * scale), Math.round(picture.height * scale)];
      canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
      const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.85));
      return blob && blob.size < file.size ? new File([blob], `${file.name}.jpg`, { type: "image/jpeg" }) : file;
    } catch (noPicture) {
      return file; // the server says what is wrong with it
    }
  }
})();
