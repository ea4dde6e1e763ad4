/** Spanish: what the phone says by itself, without the service. */
import type * as en from "../en/alone";

export const localAdvice: typeof en.localAdvice = {
  anotherStep: "Ya hay señal, y el servicio propone otro paso",
  showTheServices: "Ver la respuesta del servicio",
  sameStep: "Ya hay señal: el servicio llega al mismo paso",
  workedOutHere: (age) => `Sin señal: calculado con la copia de este teléfono, ${age}`,
  askingTheService: "Consultando al servicio…",
  keptAndSent: "Cada paso se guarda aquí y se envía cuando haya señal.",
  ageNotKnown: "de edad desconocida",
  underAMinuteOld: "de hace menos de un minuto",
  old: (age) => `de hace ${age}`,
  fromThisCopy: (age) => `Sin señal: de la copia de este teléfono, ${age}`,
  byWordsOnly: (why) => `Casos anteriores por palabras, códigos y coche. No se calculan probabilidades: ${why}.`,
  askAgain: "Consultar otra vez",
  noSignal: "Sin señal",
  thisPhone: "Este teléfono",
  whatThisPhoneRemembers: "Lo que recuerda este teléfono",
  whatSettledIt: "Lo que lo aclaró otras veces",
  testAsYouKnow: "Prueba como sabes y anótalo aquí",
  settled: (many) => (many === 1 ? "Aclaró uno de los casos de abajo" : `Aclaró ${many} de los casos de abajo`),
  anotherTest: "Otra prueba",
  aReading: "Una lectura",
  whatItWasBefore: "Lo que fue otras veces",
  nothingLikeThis: "Nada parecido en la copia de este teléfono",
  fewerWords: "Prueba con menos palabras, o consulta otra vez con señal.",
  readings: "Lecturas",
};

export const lacking: typeof en.lacking = {
  "needs signal": "para eso hace falta señal una vez",
  "no threads": "este navegador no abre hilos de cálculo",
  "not started": "no se pudo abrir el hilo de cálculo",
  "not fetched": "este teléfono aún no ha descargado con qué calcular",
};

export const nearness: typeof en.nearness = {
  sameMake: "misma marca",
  otherModel: "misma marca, otro modelo",
  sameModel: "mismo modelo",
  sameYear: "mismo año",
  yearsApart: (years) => (years === 1 ? "1 año de diferencia" : `${years} años de diferencia`),
  sameEngine: "mismo motor",
};

export const written: typeof en.written = {
  repairedWithoutANewPart: "Reparado sin pieza nueva",
};
