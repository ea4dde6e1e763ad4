import { render } from "preact";
import { App } from "./app";
import { startLanguage } from "./app-language";
import { keepLook } from "./app-look";
import "./style/index.css";

keepLook();
const place = document.getElementById("app");
if (place) void startLanguage().then(() => render(<App />, place));
