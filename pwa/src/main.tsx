import { render } from "preact";
import { App } from "./app";

const place = document.getElementById("app");
if (place) render(<App />, place);
