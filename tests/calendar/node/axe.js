// Prints, for each page of HTML named, what axe-core finds against WCAG 2.2 A and AA and its own best practices.
// In jsdom nothing is laid out, so contrast is not judged here: the tests compute it.
import { readFileSync } from "node:fs";
import { JSDOM } from "jsdom";
import axe from "axe-core";

const found = [];
for (const path of process.argv.slice(2)) {
  const dom = new JSDOM(readFileSync(path, "utf8"), { runScripts: "outside-only", pretendToBeVisual: true });
  dom.window.eval(axe.source);
  const answer = await dom.window.axe.run(dom.window.document, {
    runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    rules: { "color-contrast": { enabled: false } },
  });
  found.push({
    rules: answer.passes.map((rule) => rule.id),
    violations: answer.violations.map((rule) => [rule.id, rule.nodes.map((node) => node.html.slice(0, 160))]),
  });
  dom.window.close();
}
console.log(JSON.stringify(found));
