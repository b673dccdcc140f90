import {BootError, boot} from "./boot.mjs";

self.onmessage = async ({data: {stallSeconds = "30", program = "1"}}) => {
  try {
    const python = await boot({
      base: "./runtime/",
      stallSeconds: Number(stallSeconds),
      onProgress: (progress) => self.postMessage({progress}),
    });
    self.postMessage({result: python.runPython(program)});
  } catch (error) {
    const {code, message, file} = error;
    self.postMessage({failed: {code, message, file, isBootError: error instanceof BootError}});
  }
};
