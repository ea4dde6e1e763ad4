import { render } from "preact";
import { App } from "./app";
import "./style/index.css";

const place = document.getElementById("app");
if (place) render(<App />, place);
