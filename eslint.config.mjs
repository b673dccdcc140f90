// ESLint's recommended rules over every script written by hand, with the names each place may take for granted.

import js from "@eslint/js";
import globals from "globals";

const BROWSER = "src/crankpin/browser";
const THEME_SCRIPTS = "src/crankpin/site/theme/scripts";
const WORKERS = [`${BROWSER}/static/{worker,boot}.mjs`, `${BROWSER}/offline/*.js`, `${THEME_SCRIPTS}/search.js`];

/** What the theme that the pages are built on defines for every page. */
const THEME = {__md_get: "readonly", __md_scope: "readonly", __md_set: "readonly"};

const names = (files, ...groups) => ({files, languageOptions: {globals: Object.assign({}, ...groups)}});

export default [
  {ignores: ["build/", "site/", "sheets/", ".venv/", `${BROWSER}/runtime_files*/`]},
  js.configs.recommended,
  {linterOptions: {reportUnusedDisableDirectives: "error"}},
  {files: ["**/*.js"], languageOptions: {sourceType: "script"}},
  names(["src/**"], globals.browser),
  names([`${THEME_SCRIPTS}/site.js`], THEME),
  names(WORKERS, globals.worker, globals.serviceworker),
  names(["runtime/**", "tests/**"], globals.node),
  names(["tests/runtime/page/**"], globals.browser, globals.worker),
];
