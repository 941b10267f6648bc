// Looks at HTML files as people's programs would, and says what was seen.
//
//     node check.mjs JOBS.json RESULTS.json
//
// JOBS: a list of {file, axe: [settings], print: {name: file}, inventory: whether without axe-core too}. RESULTS: for each job what
// html-validate and axe-core found fault with, what the page asked the network for, which boxes
// it opened, its elements as a browser understands them, and the rows of its tables.
import fs from "node:fs";
import { createRequire } from "node:module";
import os from "node:os";
import path from "node:path";
import url from "node:url";
import { chromium } from "playwright-core";
import { HtmlValidate, StaticConfigLoader } from "html-validate";

const here = path.dirname(url.fileURLToPath(import.meta.url));
const require = createRequire(import.meta.url);
const axe = fs.readFileSync(require.resolve("axe-core/axe.min.js"), "utf-8");
const validator = new HtmlValidate(new StaticConfigLoader(require("./htmlvalidate.cjs")));

const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa", "best-practice"];
const SETTINGS = {
    light: { viewport: { width: 1280, height: 900 }, colorScheme: "light" },
    dark: { viewport: { width: 1280, height: 900 }, colorScheme: "dark" },
    narrow: { viewport: { width: 400, height: 800 }, colorScheme: "light" },
};
// Both papers, whether the browser obeys the size that the page asks for or not.
const PAPERS = {
    a4: { format: "A4", preferCSSPageSize: true },
    letter: { format: "Letter", preferCSSPageSize: false },
};

async function open(browser, file, setting, seen) {
    const context = await browser.newContext({ ...setting, offline: true });
    const page = await context.newPage();
    page.on("request", (r) => {
        if (r.url() !== url.pathToFileURL(file).href) seen.requests.push(r.url().slice(0, 200));
    });
    page.on("dialog", (d) => {
        seen.dialogs.push(d.message());
        d.dismiss();
    });
    page.on("pageerror", (e) => seen.errors.push(String(e)));
    await page.goto(url.pathToFileURL(file).href);
    return [context, page];
}

async function runAxe(page) {
    await page.evaluate(axe);
    return page.evaluate(async (tags) => {
        const r = await window.axe.run(document, {
            runOnly: { type: "tag", values: tags },
            resultTypes: ["violations"],
        });
        return r.violations.map((v) => ({
            id: v.id,
            help: v.help,
            n: v.nodes.length,
            first: v.nodes.slice(0, 2).map((n) => n.target.join(" ") + ": " + n.failureSummary),
        }));
    }, TAGS);
}

/** What the browser made of it: each sort of element with its attributes; the text. */
function inventory() {
    const sorts = {};
    for (const e of document.querySelectorAll("*")) {
        const names = [...e.attributes].map((a) => a.name).sort();
        const key = e.namespaceURI.replace(/.*\//, "") + ":" + e.localName + "[" + names.join(" ") + "]";
        sorts[key] = (sorts[key] || 0) + 1;
    }
    return {
        sorts,
        text: document.body.textContent,
        title: document.title,
        lang: document.documentElement.lang,
        wider: document.documentElement.scrollWidth - document.documentElement.clientWidth,
        links: [...document.querySelectorAll("[href],[src]")].map(
            (e) => e.getAttribute("href") || e.getAttribute("src")),
    };
}

/** Rows, cards and items as texts, after what only screen readers see has been taken away. Flags
 *  are cut to their shape, and so drawn after all else on their page: their numbers are left out. */
function printed() {
    document.querySelectorAll(".p-hidden").forEach((e) => e.remove());
    const read = (e) => {
        if (e.nodeType === Node.TEXT_NODE) return e.data;
        if (e.nodeType !== Node.ELEMENT_NODE || e.matches(".p-tag")) return "";
        const text = [...e.childNodes].map(read).join("");
        return getComputedStyle(e).textTransform === "uppercase" ? text.toUpperCase() : text;
    };
    const out = [];
    for (const e of document.querySelectorAll("tbody tr, .p-card, li")) {
        if (e.closest("nav")) continue;
        out.push({ kind: e.localName, height: e.getBoundingClientRect().height, text: read(e) });
    }
    return out;
}

async function look(browser, job) {
    const html = fs.readFileSync(job.file, "utf-8");
    const seen = { requests: [], dialogs: [], errors: [], axe: {}, wider: {} };
    const report = await validator.validateString(html, job.file);
    seen.validate = report.results.flatMap((r) =>
        r.messages.map((m) => `${m.ruleId}, line ${m.line}, column ${m.column}: ${m.message}`));
    for (const name of job.axe) {
        const [context, page] = await open(browser, job.file, SETTINGS[name], seen);
        const found = await page.evaluate(inventory);
        seen.wider[name] = found.wider;
        seen.inventory ??= found;
        seen.axe[name] = await runAxe(page);
        await context.close();
    }
    if (job.inventory && !seen.inventory) {
        const [context, page] = await open(browser, job.file, SETTINGS.light, seen);
        seen.inventory = await page.evaluate(inventory);
        await context.close();
    }
    for (const [paper, file] of Object.entries(job.print || {})) {
        const setting = { viewport: { width: 673, height: 1000 }, colorScheme: "light" };
        const [context, page] = await open(browser, job.file, setting, seen);
        await page.emulateMedia({ media: "print" });
        seen.rows = await page.evaluate(printed);
        await page.pdf({ path: file, ...PAPERS[paper] });
        await context.close();
    }
    return seen;
}

const jobs = JSON.parse(fs.readFileSync(process.argv[2], "utf-8"));
const profile = fs.mkdtempSync(path.join(os.tmpdir(), "stillset-chromium-"));
const browser = await chromium.launch({
    executablePath: process.env.STILL_CHROMIUM || "/usr/bin/chromium",
    headless: true,
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
        "--disable-background-networking", "--disable-component-update", "--disable-sync"],
    env: { ...process.env, HOME: profile },
});
const results = new Array(jobs.length);
let next = 0;
async function work() {
    while (next < jobs.length) {
        const i = next++;
        results[i] = await look(browser, jobs[i]);
    }
}
try {
    await Promise.all([work(), work()]);
} finally {
    await browser.close();
    fs.rmSync(profile, { recursive: true, force: true });
}
fs.writeFileSync(process.argv[3], JSON.stringify(results));
