/** Spanish of what shops of one service share. */
import type { sharing as english } from "../en/sharing";
import type { Shown } from "../shown";

export const sharing: typeof english = {
  title: "Otros talleres",
  look: "Ver lo que verían de él",
  words: "Palabras",
  car: "Coche",
  cause: "Causa",
  done: "Hecho",
  proof: "Prueba",
  steps: "Pasos",
  never: "Nunca se comparten: precios, notas, fotos, días, nombres, el final del VIN.",
  takenOut: (words: Shown) => `Quitado de las palabras: ${words}. Mire si debe quitarse algo más.`,
  sharedSince: (day: Shown) => `Lo ven desde el ${day}.`,
  changedSince: "Aquí se cambió después.",
  shareAsShown: "Compartirlo como se ve",
  takeBack: "Retirarlo",
  notDone: "No se hizo",
  needsSignal: "Esto necesita cobertura.",
  askOthers: "¿Qué encontraron otros talleres?",
  otherShops: "Encontrado en otros talleres",
  noneLike: "Allí no hay nada parecido",
  countsForNothing: "No son casos nuestros: no cuentan en las probabilidades de arriba.",
  switchTitle: "Compartir con otros talleres",
  switchWhat: "Los talleres de este servicio que están de acuerdo ven los casos cerrados unos de otros, cada uno mirado y compartido a mano, sin personas ni precios.",
  on: "Participamos",
  off: "No participamos",
  stop: "Dejar de compartir",
  stopAsk: "¿Dejarlo y retirar todo lo compartido?",
  start: "Participar",
};
