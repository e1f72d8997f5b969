// Where the floor begins: a pairing link is moved into the app's own address first, so that the worker has it in reach.
import "@fontsource/atkinson-hyperlegible/latin-400.css";
import "@fontsource/atkinson-hyperlegible/latin-700.css";
import "@fontsource/atkinson-hyperlegible/latin-ext-400.css";
import "@fontsource/atkinson-hyperlegible/latin-ext-700.css";
import "../style/ground.css";
import "./style/floor.css";
import "../style/words.css";
import "./style/pages.css";
import "../style/ribbon.css";
import { render } from "preact";
import { beginTheme } from "../theme";
import { App } from "./app";
import { start } from "./start";

if (location.pathname === "/pair") location.replace(`/floor/#/pair/${encodeURIComponent(location.hash.slice(1))}`);
else if (location.pathname !== "/floor/") location.replace(`/floor/${location.hash}`);
else {
  beginTheme();
  const root = document.getElementById("floor");
  if (root) {
    root.textContent = "";
    render(<App />, root);
  }
  void start();
}
