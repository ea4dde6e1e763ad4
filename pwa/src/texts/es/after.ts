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

export const toCall: typeof en.toCall = {
  title: "Clientes por llamar",
  why: "Terminados hace dos semanas o más, primero los más dudosos. Pregunte si sigue arreglado.",
  days: (days) => `hace ${days} días`,
  more: (many) => `${many} más`,
  cured: "Arreglado",
  cameBack: "Ha vuelto",
  somethingElse: "Otra cosa",
  saidCured: (day) => `llamada al cliente ${day}: arreglado`,
  noted: "Anotado como arreglado según el cliente",
  risks: {
    unproved: "arreglo sin comprobar",
    away: "la avería iba y venía",
    partly: "arreglado solo en parte",
    cheap: "pieza que no es del fabricante",
    untested: "ninguna prueba lo confirmó",
  },
};
