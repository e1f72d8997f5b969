// Where the pages begin: fonts and style, then whoever is signed in gets their area.
import "@fontsource/atkinson-hyperlegible/latin-400.css";
import "@fontsource/atkinson-hyperlegible/latin-ext-400.css";
import "@fontsource/atkinson-hyperlegible/latin-400-italic.css";
import "@fontsource/atkinson-hyperlegible/latin-700.css";
import "@fontsource/atkinson-hyperlegible/latin-ext-700.css";
import "./style/ground.css";
import "./style/forms.css";
import "./style/words.css";
import "./style/pages.css";
import "./style/label.css";
import "./style/ribbon.css";
import "./style/print.css";
import { render } from "preact";
import { App } from "./app";
import { beginTheme } from "./theme";

beginTheme();
const root = document.getElementById("app");
if (root) {
  root.textContent = "";
  render(<App />, root);
}
