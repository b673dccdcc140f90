// Starts the worker with what the address asks for and keeps all that it says.
window.said = [];
const worker = new Worker(new URL("worker.mjs", import.meta.url), {type: "module"});
worker.onmessage = ({data}) => window.said.push(data);
worker.onerror = (event) => window.said.push({failed: {code: "worker", message: event.message}});
worker.postMessage(Object.fromEntries(new URLSearchParams(location.search)));
