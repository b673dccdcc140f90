/* Runs in the head, before anything is drawn. A browser that can run the calculators shows their controls, any other
   shows the printed values in their place; nothing moves afterwards. The worker starts here, so that its files are on
   their way while the page is read; a reader who saves data starts it by touching a calculator. */
if ("noModule" in HTMLScriptElement.prototype && "customElements" in window && "CSSContainerRule" in window) {
  document.documentElement.classList.add("takes-input");
  if (!(navigator.connection && navigator.connection.saveData)) {
    const early = {worker: new Worker(new URL("./worker.mjs", document.currentScript.src), {type: "module"})};
    early.worker.onerror = () => (early.worker = null);
    window.crankpinEarly = early;
  }
}
