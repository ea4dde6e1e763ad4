/** Spanish: words of the service and of the model, figures, and what goes wrong between them. */
import type * as en from "../en/said";

export const named: typeof en.named = {
  "not known yet": "Aún no se sabe",
  cured: "Resuelto",
  partly: "En parte",
  "no change": "Sin cambio",
  "failed later": "Falló después",
  maker: "Original",
  aftermarket: "Recambio libre",
  rebuilt: "Reconstruida",
  used: "Usada",
  "own stock": "Del almacén",
  "no fault found": "Sin avería hallada",
  declined: "El cliente no quiso",
  referred: "Derivado",
  technician: "Técnico",
  manager: "Jefe de taller",
  low: "Bajo",
  ok: "Bien",
  high: "Alto",
  none: "Nada",
  open: "Abierto",
  short: "En corto",
  weak: "Débil",
  worn: "Gastado",
  bad: "Mal",
  good: "Bien",
  empty: "Vacío",
  flat: "Descargada",
  marginal: "Justo",
  replace: "Sustituir",
  soon: "Pronto",
  steady: "Estable",
  even: "Parejo",
  uneven: "Desigual",
  restricted: "Obstruido",
  vacuum: "Vacío de aire",
  pressure: "Presión",
  wide: "Holgado",
  tight: "Apretado",
};

export const shows: typeof en.shows = {
  cold: "En frío, recién arrancado",
  hot: "En caliente, tras rodar",
  cold_day: "Con frío o helada",
  hot_day: "Con calor o sol",
  rain: "Con lluvia, lavado o humedad",
  standing: "Tras horas parado",
  start: "Al dar contacto o arrancar",
  idle: "Al ralentí, parado",
  slow: "Despacio, al salir, al cambiar",
  driving: "En marcha normal",
  fast: "Rápido, en autopista",
  load: "Al acelerar, en subida, cargado",
  bumps: "En baches",
  turning: "Al girar",
  braking: "Al frenar",
  aircon: "Con el aire puesto",
  electrics: "Con luces y calefacción",
};

export const format: typeof en.format = {
  underAMinute: "menos de 1 min",
  min: (all) => `${all} min`,
  hours: (hours, rest) => (rest ? `${hours} h ${rest} min` : `${hours} h`),
  justNow: "ahora mismo",
  under1: "< 1 %",
  over99: "> 99 %",
};

export const net: typeof en.net = {
  notReady: (status) => `el servicio no está listo (${status})`,
  tooLarge: "Demasiado grande",
  noBodyOfThisSize: "El servicio no acepta un envío de este tamaño.",
  sendSmaller: "Envía uno más pequeño.",
  stranger: (status) => `contestó algo que no es el servicio (${status})`,
  noAnswerInTime: "no hubo respuesta a tiempo",
  noConnection: "no hay conexión",
  outdated: "esta aplicación es más vieja que el servicio del taller; actualízala",
  pictureGone: "La imagen ya no está en este teléfono.",
  takeItAgain: "Déjala y hazla otra vez.",
  keepsChanging: "el caso cambia una y otra vez",
  somebodyElse: (field) => `Mientras tanto, otra persona cambió ${field} de este caso.`,
  lookAndDecide: "Mira el caso como está ahora; luego envía otra vez para conservar lo tuyo, o descártalo.",
  notSent: "Sin enviar",
  cannotRead: (what) => `no se entiende la respuesta del servicio: ${what}`,
};

export const vin: typeof en.vin = {
  strangeSign: (sign, place) => `${sign} en el lugar ${place} no existe en ningún VIN. Una I suele ser 1; O y Q, 0.`,
  tooShort: (many, whole) => `${many} de ${whole} signos. Se guarda cuando esté entero; o déjalo vacío.`,
  checkDigit: "El dígito de control del lugar 9 no cuadra. Lee la placa otra vez o deja el VIN vacío.",
  otherYear: (year, typed) => `El VIN dice ${year}, escrito ${typed}`,
};

export const reading: typeof en.reading = {
  notAbove: (high, unit) => `no más de ${high} ${unit}`,
  notBelow: (low, unit) => `no menos de ${low} ${unit}`,
  between: (low, high, unit) => `de ${low} a ${high} ${unit}`,
  givenIn: (quantity, units, unit) => `${quantity} se da en ${units}, no en ${unit}`,
  cannotBe: (value, quantity, limits) => `${value} no puede ser para ${quantity} (${limits})`,
};

export const draft: typeof en.draft = {
  codes: (codes) => `Códigos ${codes}`,
  noWordsGiven: "Sin palabras",
};

export const units: typeof en.units = {
  micron: "micras",
  apart: (degrees) => `${degrees} de diferencia`,
  times: "veces",
};

export const judged: typeof en.judged = {
  cannotBeWorkedOut: (why) => `el margen de la lista no se puede calcular en este teléfono: ${why}`,
  without: (what) => `no se puede juzgar sin ${what}`,
  noTableFor: (chosen, listed) => `no hay tabla para ${chosen}; hay para: ${listed}`,
  outsideTheTable: (at) => `${at} queda fuera de la tabla`,
  notInTheLists: (quantity) => `${quantity} no está en las listas de este teléfono`,
  pleaseGive: (what) => `. Indica: ${what}`,
  nothingUnusual: "nada fuera de lo normal",
  atMost: (high, unit) => `como mucho ${high} ${unit}`,
  atLeast: (low, unit) => `al menos ${low} ${unit}`,
  between: (low, high, unit) => `de ${low} a ${high} ${unit}`,
  expected: (range, at) => (at ? `Se espera ${range} con ${at}.` : `Se espera ${range}.`),
  assumed: "(supuesto)",
  makerDecides: "El margen es orientativo: decide el dato del fabricante.",
  note: (note) => `Nota: ${note}.`,
};
