// Prints as JSON what the Khronos glTF validator finds in a GLB file.
import { readFileSync } from "node:fs";
import { validateBytes } from "gltf-validator";

const report = await validateBytes(new Uint8Array(readFileSync(process.argv[2])), { maxIssues: 20 });
console.log(JSON.stringify(report));
