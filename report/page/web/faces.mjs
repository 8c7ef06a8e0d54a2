// Cuts the typefaces of the page and of its figures down to the letters that
// they use, as WOFF2, and puts their licences beside them.
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import subsetFont from "subset-font";

const here = dirname(fileURLToPath(import.meta.url));
const out = join(here, "..", "faces");
const sources = join(here, "node_modules", "@expo-google-fonts");

// Letters that a typeface has not come from the reader's machine.
const letters = (ranges) => ranges.map(([from, to]) =>
  String.fromCodePoint(...Array.from({ length: to - from + 1 }, (_, i) => from + i))).join("");

// Latin, Latin of other European languages, Greek, marks that combine; spaces,
// dashes, quotes, daggers; super- and subscripts; arrows, signs, shapes.
const ofText = letters([
  [0x20, 0x7e], [0xa0, 0x17f], [0x218, 0x21b], [0x2c6, 0x2dd], [0x384, 0x3ce], [0x1e9e, 0x1e9e],
  [0x2009, 0x2015], [0x2018, 0x2027], [0x202f, 0x203a], [0x2044, 0x2044],
  [0x2070, 0x209c], [0x20ac, 0x20ac], [0x2116, 0x2122], [0x2190, 0x2195],
  [0x2202, 0x2265], [0x25a0, 0x25cf],
]);

// Figures name samples, oxides, minerals and units.
const ofFigures = letters([
  [0x20, 0x7e], [0xa0, 0xff], [0x391, 0x3c9], [0x2010, 0x2015], [0x2018, 0x201d],
  [0x2026, 0x2026], [0x2070, 0x209c], [0x2212, 0x2212], [0x2248, 0x2248], [0x2264, 0x2265],
]);

const options = {
  targetFormat: "woff2",
  noHinting: true,
  // Kerning, ligatures, marks over letters, figures of tables and of prose.
  keepFeatures: ["kern", "liga", "ccmp", "mark", "mkmk", "locl", "lnum", "tnum", "onum", "pnum"],
};

await mkdir(out, { recursive: true });
// The figures' typeface is as wide as the one by which their lettering is placed.
for (const [family, file, kept, styles] of [
  ["source-serif-4", "SourceSerif4", ofText, { regular: "400Regular", italic: "400Regular_Italic", bold: "600SemiBold" }],
  ["arimo", "Arimo", ofFigures, { "figures-regular": "400Regular", "figures-italic": "400Regular_Italic", "figures-bold": "700Bold" }],
]) {
  for (const [name, style] of Object.entries(styles)) {
    const face = await readFile(join(sources, family, style, `${file}_${style}.ttf`));
    await writeFile(join(out, `${name}.woff2`), await subsetFont(face, kept, options));
  }
  await writeFile(join(out, `${file}-LICENSE.txt`), await readFile(join(sources, family, "LICENSE_FONT")));
}
