/** Spanish: what only a wide screen shows. */
import type * as en from "../en/desk";

export const sortTable: typeof en.sortTable = {
  narrow: "Solo filas con",
  rows: (shown, all) => (shown === all ? `${all} filas` : `${shown} de ${all} filas`),
  save: "Guardar como tabla",
  more: (many) => `${many} más`,
  keys: "Teclas: j y k o las flechas de fila en fila, Intro abre, / busca.",
};

export const casesTable: typeof en.casesTable = {
  name: "Casos",
  what: "Qué era",
  state: "Estado",
  unsent: (many) => `, ${many} sin enviar`,
  cause: "Causa",
  car: "Coche",
  distance: "Cuentakilómetros",
  cost: "Coste",
  by: "De",
  touched: "Último cambio",
};
