import { render } from "preact";
import { App } from "./app.tsx";
import { loadSession } from "./session/session.ts";
import "./look/palette.css";
import "./look/ground.css";
import "./look/controls.css";
import "./look/frame.css";
import "./look/bench.css";
import "./look/record.css";
import "./look/pages.css";
import "./look/case.css";
import "./look/people.css";

const host = document.getElementById("page");
if (host === null) throw new Error("the document has no element with the id page");
void loadSession();
render(<App />, host);
