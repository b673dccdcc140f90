// Prints, as JSON, where stand-ins differ from the modules they stand for: node tests/runtime/stand_ins.mjs
// Of other stand-ins than the project's: node tests/runtime/stand_ins.mjs '{"inspect.py": "text"}'

import {readFileSync} from "node:fs";
import {startBuilder} from "../../runtime/builder.mjs";
import {standIns} from "../../runtime/sources.mjs";

const sources = process.argv[2] ? JSON.parse(process.argv[2]) : standIns();
const {python} = await startBuilder();
python.FS.writeFile("stand_ins.py", readFileSync(new URL("stand_ins.py", import.meta.url), "utf8"));
const found = python.pyimport("stand_ins").differences(python.toPy(sources)).toJs();
console.log(JSON.stringify({compared: Object.keys(sources), found}));
