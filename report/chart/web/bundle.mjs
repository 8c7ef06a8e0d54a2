// Bundles the charting library into ../bundle/echarts.js, one plain script,
// and puts the licences of what it holds beside it.
import { build } from "esbuild";
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const out = join(here, "..", "bundle");
const modules = join(here, "node_modules");

const version = async (name) =>
  JSON.parse(await readFile(join(modules, name, "package.json"), "utf8")).version;

const banner = `/*! Apache ECharts ${await version("echarts")}, Copyright the Apache Software Foundation, Apache License 2.0.
 * Holds zrender ${await version("zrender")} (BSD 3-Clause), tslib ${await version("tslib")} (0BSD) and code derived from d3 (BSD 3-Clause).
 * The full licence texts are kept beside this file in the source of the program. */`;

const result = await build({
  absWorkingDir: here,
  entryPoints: ["entry.js"],
  bundle: true,
  minify: true,
  write: false,
  format: "iife",
  target: "es2017",
  charset: "ascii",
  legalComments: "eof",
  banner: { js: banner },
  logLevel: "warning",
});

const text = result.outputFiles[0].text;
// The page holds the script between script tags: neither may occur in it.
if (/<\/script|<!--/i.test(text)) {
  throw new Error("the bundle would end the script element of a page");
}

await mkdir(out, { recursive: true });
await writeFile(join(out, "echarts.js"), text);

const licences = {
  "echarts-LICENSE.txt": ["echarts", "LICENSE"],
  "echarts-NOTICE.txt": ["echarts", "NOTICE"],
  "d3-LICENSE.txt": ["echarts", "licenses/LICENSE-d3"],
  "zrender-LICENSE.txt": ["zrender", "LICENSE"],
  "tslib-LICENSE.txt": ["tslib", "LICENSE.txt"],
};
for (const [name, [pack, file]] of Object.entries(licences)) {
  await writeFile(join(out, name), await readFile(join(modules, pack, file)));
}
