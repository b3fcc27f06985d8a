// Validates the GLB file named by the first argument and prints the validator's report as JSON.
import { readFileSync } from "node:fs";
import validator from "gltf-validator";

const report = await validator.validateBytes(new Uint8Array(readFileSync(process.argv[2])), { maxIssues: 0 });
console.log(JSON.stringify(report));
