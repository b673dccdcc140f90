/* Runs in the head, before anything is drawn: a browser that can run the calculators shows their controls, any
   other shows the printed values in their place. Nothing moves afterwards. */
if ("noModule" in HTMLScriptElement.prototype && "customElements" in window && "CSSContainerRule" in window) {
  document.documentElement.classList.add("takes-input");
}
