// Cuts the page's typefaces down to the letters that reports use, as WOFF2, and
// puts their licence beside them.
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import subsetFont from "subset-font";

const here = dirname(fileURLToPath(import.meta.url));
const out = join(here, "..", "faces");
const source = join(here, "node_modules", "@expo-google-fonts", "source-serif-4");

// Latin, Latin of other European languages, Greek, marks that combine; spaces,
// dashes, quotes, daggers; super- and subscripts; arrows, signs, shapes.
// Letters that the typeface has not come from the reader's machine.
const ranges = [
  [0x20, 0x7e], [0xa0, 0x17f], [0x218, 0x21b], [0x2c6, 0x2dd], [0x384, 0x3ce], [0x1e9e, 0x1e9e],
  [0x2009, 0x2015], [0x2018, 0x2027], [0x202f, 0x203a], [0x2044, 0x2044],
  [0x2070, 0x209c], [0x20ac, 0x20ac], [0x2116, 0x2122], [0x2190, 0x2195],
  [0x2202, 0x2265], [0x25a0, 0x25cf],
];
const letters = ranges.map(([from, to]) =>
  String.fromCodePoint(...Array.from({ length: to - from + 1 }, (_, i) => from + i))).join("");

const options = {
  targetFormat: "woff2",
  noHinting: true,
  // Kerning, ligatures, marks over letters, figures of tables and of prose.
  keepFeatures: ["kern", "liga", "ccmp", "mark", "mkmk", "locl", "lnum", "tnum", "onum", "pnum"],
};

await mkdir(out, { recursive: true });
for (const [name, style] of [
  ["regular", "400Regular"], ["italic", "400Regular_Italic"], ["bold", "600SemiBold"],
]) {
  const face = await readFile(join(source, style, `SourceSerif4_${style}.ttf`));
  await writeFile(join(out, `${name}.woff2`), await subsetFont(face, letters, options));
}
await writeFile(join(out, "SourceSerif4-LICENSE.txt"), await readFile(join(source, "LICENSE_FONT")));
