import { render } from "preact";
import { App } from "./app";
import { keepLook } from "./app-look";
import "./style/index.css";

keepLook();
const place = document.getElementById("app");
if (place) render(<App />, place);
