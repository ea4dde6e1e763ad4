/** What the app controller holds: the signals to show and the acts to call. Bodies in phone-*.ts. */

export type { Phone, PhoneSignals, Online, Asked } from "./phone-types";
export { createPhone } from "./phone-create";
