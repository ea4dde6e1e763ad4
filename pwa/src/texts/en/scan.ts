/** English: the camera that reads a VIN. */

export const scan = {
  camera: "Camera for the VIN",
  hold: "Hold the barcode of the VIN in the picture: at the door, or behind the windscreen.",
  slow: "Not found yet. Go nearer, wipe it, keep it level; or type the number.",
  stop: "Stop the camera",
  close: "Close",
  notAllowed: "The camera is not allowed here. Allow it in the browser's settings for this page.",
  noCamera: "There is no camera this page can use.",
  cameraBusy: "The camera cannot be started. Another app may hold it.",
  noReader: "The reader of barcodes could not be loaded. It needs signal once.",
  typeIt: "Or type the number: the check digit is looked at as you type.",
};
