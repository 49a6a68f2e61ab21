import { render } from "preact";

const root = document.getElementById("app");
if (!root) throw new Error("index.html has no element with the id app");
render(<h1>Tailslate</h1>, root);
