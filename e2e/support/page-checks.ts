// What every screen of the phone page is held to.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** Violations that axe finds, one line each. The context must bypass the content policy. */
export async function axeFaults(page: Page): Promise<readonly string[]> {
  await page.evaluate(axe);
  return page.evaluate(`axe.run(document, { resultTypes: ["violations"] }).then(({ violations }) =>
    violations.map((one) => one.id + ": " + one.nodes.slice(0, 3).map((node) => node.target.join(" ")).join(" | ")))`);
}

/** Things to press that are smaller than 48 px in either direction, and a page that is wider than its window. */
export function layoutFaults(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => {
    const faults: string[] = [];
    const over = document.documentElement.scrollWidth - innerWidth;
    if (over > 0) faults.push(`wider than the window by ${over} px`);
    for (const element of document.querySelectorAll("button, a, summary, label, input, textarea")) {
      // A box within its label is pressed by the label.
      if (element instanceof HTMLInputElement && element.closest("label") !== null) continue;
      const { width, height } = element.getBoundingClientRect();
      if (width === 0 || (width >= 47.9 && height >= 47.9)) continue;
      faults.push(`${element.textContent.slice(0, 30)}: ${Math.round(width)} × ${Math.round(height)} px`);
    }
    return faults;
  });
}

/** Least contrast (WCAG 2.2) of any text or drawn shape within the place, against the page's own ground. */
export function leastContrast(page: Page, place: string): Promise<{ readonly ratio: number; readonly text: string }> {
  return page.evaluate((selector) => {
    const canvas = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
    const luminance = (color: string): number => {
      if (canvas === null) return Number.NaN;
      canvas.fillStyle = color;
      canvas.fillRect(0, 0, 1, 1);
      const [r = 0, g = 0, b = 0] = canvas.getImageData(0, 0, 1, 1).data;
      const linear = (value: number): number => {
        const share = value / 255;
        return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
      };
      return 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
    };
    const groundOf = (element: Element | null): string => {
      for (let at = element; at !== null; at = at.parentElement) {
        const color = getComputedStyle(at).backgroundColor;
        if (color !== "rgba(0, 0, 0, 0)" && color !== "transparent") return color;
      }
      return "#fff";
    };
    let worst = { ratio: Infinity, text: "" };
    for (const element of document.querySelectorAll(`${selector}, ${selector} *`)) {
      const own = [...element.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && node.textContent?.trim());
      const drawn = element.tagName === "rect" || element.tagName === "path";
      if (!own && !drawn) continue;
      const style = getComputedStyle(element);
      const [a, b] = [luminance(drawn ? style.fill : style.color), luminance(groundOf(element))].sort((x, y) => y - x);
      const ratio = ((a ?? 0) + 0.05) / ((b ?? 0) + 0.05);
      if (ratio < worst.ratio) worst = { ratio, text: element.textContent.slice(0, 40) };
    }
    return worst;
  }, place);
}
