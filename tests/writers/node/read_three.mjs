// Prints as JSON what three.js finds in a GLB file: names, triangles, bounds, colours.
import { readFileSync } from "node:fs";
import { Box3 } from "three";
import { GLTFLoader } from "three/examples/jsm/loaders/GLTFLoader.js";

const bytes = readFileSync(process.argv[2]);
const whole = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength);
const { scene } = await new GLTFLoader().parseAsync(whole, "");
scene.updateMatrixWorld(true);

const [root] = scene.children;
const parts = {};
let triangles = 0;
for (const part of root.children) {
  part.traverse((thing) => {
    if (!thing.isMesh) return;
    triangles += thing.geometry.index.count / 3;
    parts[part.name] = thing.material.color.getHexString();
  });
}
const bounds = new Box3().setFromObject(scene, true);
console.log(JSON.stringify({ triangles, parts, bounds: [bounds.min.toArray(), bounds.max.toArray()] }));
