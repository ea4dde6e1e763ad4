/** Spanish: the camera that reads a VIN. */
import type * as en from "../en/scan";

export const scan: typeof en.scan = {
  camera: "Cámara para el VIN",
  hold: "Ponga el código de barras del VIN en la imagen: en la puerta, o tras el parabrisas.",
  slow: "Aún no se encuentra. Acérquese, límpielo, manténgalo derecho; o escriba el número.",
  stop: "Parar la cámara",
  close: "Cerrar",
  notAllowed: "Aquí no se permite la cámara. Permítala en los ajustes del navegador para esta página.",
  noCamera: "No hay cámara que esta página pueda usar.",
  cameraBusy: "La cámara no arranca. Quizá la tenga otra aplicación.",
  noReader: "No se pudo cargar el lector de códigos de barras. Necesita señal una vez.",
  typeIt: "O escriba el número: el dígito de control se mira al escribir.",
};
