// Reads the DXF file named by the first argument and prints what dxf-parser sees as JSON.
import { readFileSync } from "node:fs";
import DxfParser from "dxf-parser";

const Parser = DxfParser.default ?? DxfParser;
console.log(JSON.stringify(new Parser().parseSync(readFileSync(process.argv[2], "utf8"))));
