/** Spanish: what comes before a job and after it. */
import type * as en from "../en/after";

export const afterwards: typeof en.afterwards = {
  stillToDo: (what) => `Falta hacer tras el montaje: ${what}`,
  makersWay: "Según el fabricante, antes de entregarlo.",
};

export const carPast: typeof en.carPast = {
  before: (times) => `Este coche ya estuvo aquí ${times === 1 ? "una vez" : `${times} veces`}`,
  last: (day, distance, what) => [`La última, ${day}`, distance && `con ${distance}`].filter(Boolean).join(" ") + `: ${what}`,
  open: "Abrir",
};
