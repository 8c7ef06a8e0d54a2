// What the page can do beyond showing: sort and filter tables, pick a sample
// and see it everywhere, tell where a number comes from. Without this script
// nothing is missing but these.
"use strict";
(() => {
  const make = (tag, properties, ...children) => {
    const e = Object.assign(document.createElement(tag), properties);
    e.append(...children);
    return e;
  };
  // What a large page carries packed.
  const unpack = (block) => {
    const bytes = Uint8Array.from(atob(block.textContent), (c) => c.charCodeAt(0));
    return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).json();
  };
  const minus = /^[−-]\s*/;

  // --- tables of a large page ----------------------------------------------

  // Their rows leave unsaid that the first cell is a head and names the sample.
  for (const block of document.querySelectorAll("[data-notes]")) {
    for (const th of document.getElementById(block.dataset.notes).querySelectorAll("tbody th")) {
      th.scope = "row";
      if (th.parentElement.dataset.sample === "") th.parentElement.dataset.sample = th.firstChild.data.trim();
    }
  }

  // --- sorting -----------------------------------------------------------

  // A cell sorts by its data-sort, else by its text without the small line
  // below it; numbers before text and empty cells last, whichever way round.
  const keyOf = (row, column) => {
    const cell = row.cells[column];
    const below = cell.querySelector("small");
    const text = cell.textContent.slice(0, below ? -below.textContent.length : undefined).trim();
    const number = cell.dataset.sort !== undefined
      ? Number(cell.dataset.sort)
      : Number.parseFloat(text.replace(minus, "-"));
    return { text, number, rank: Number.isNaN(number) ? (text ? 1 : 2) : 0 };
  };

  const sortBy = (table, header, column) => {
    const up = header.getAttribute("aria-sort") !== "ascending";
    for (const th of table.tHead.querySelectorAll("[aria-sort]")) th.removeAttribute("aria-sort");
    header.setAttribute("aria-sort", up ? "ascending" : "descending");
    const body = table.tBodies[0];
    const rows = Array.from(body.rows, (row, at) => ({ row, at, key: keyOf(row, column) }));
    rows.sort((a, b) => {
      if (a.key.rank !== b.key.rank) return a.key.rank - b.key.rank;
      const d = a.key.rank === 0
        ? a.key.number - b.key.number
        : a.key.text.localeCompare(b.key.text, "en", { numeric: true });
      return (up ? d : -d) || a.at - b.at;
    });
    body.append(...rows.map((r) => r.row));
  };

  for (const table of document.querySelectorAll("table.sortable")) {
    const heads = table.tHead.rows[table.tHead.rows.length - 1].cells;
    Array.from(heads).forEach((th, column) => {
      if (th.tagName !== "TH") return; // nothing stands above this column
      const button = make("button", { type: "button", className: "sort" }, ...th.childNodes);
      th.append(button);
      button.addEventListener("click", () => sortBy(table, th, column));
    });
  }

  // --- filtering ---------------------------------------------------------

  for (const sheet of document.querySelectorAll("[data-filter]")) {
    const rows = Array.from(sheet.querySelectorAll("tbody tr"));
    const plain = (text) => text.normalize("NFKC").toLowerCase(); // SiO₂ is found as sio2
    let texts; // made when they are first asked for
    const input = make("input", { type: "search", autocomplete: "off", spellcheck: false });
    const count = make("span", { className: "shown" });
    count.setAttribute("role", "status");
    const label = make("label", {}, "Show rows with ", input);
    sheet.prepend(make("div", { className: "filter" }, label, count));
    input.addEventListener("input", () => {
      const words = plain(input.value).split(/\s+/).filter(Boolean);
      let shown = 0;
      texts = texts || rows.map((row) => plain(row.textContent));
      rows.forEach((row, i) => {
        row.hidden = !words.every((w) => texts[i].includes(w));
        if (!row.hidden) shown++;
      });
      count.textContent = words.length ? `${shown} of ${rows.length} rows` : "";
    });
  }

  // --- taking a table along ----------------------------------------------

  // The same columns as `smeltbook table` writes. A text that a spreadsheet program
  // would run gets the apostrophe that such programs hide; numbers keep their sign.
  const isNumber = /^[−-]?\d+(\.\d+)?$/;
  const typed = (text) => (isNumber.test(text) ? text.replace("−", "-") : text.replace(/[₀-₉]/g, (s) => s.charCodeAt(0) - 0x2080));
  const inert = (text) => (/^[=+\-@\t\r]/.test(text) && !isNumber.test(text) ? "'" + text : text);
  const quoted = (text) => (/[",\r\n]|^\s/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  const textOf = (e) => (e ? e.textContent.trim() : "");
  // The parts of a cell: its value, what stands behind ±, the line below, its note
  // with what its sign means.
  const partsOf = (cell, row, signs) => {
    const copy = cell.cloneNode(true);
    const flag = textOf(copy.querySelector(".flag"));
    let below = textOf(copy.querySelector("small"));
    for (const e of copy.querySelectorAll("small, .shape, .flag, .unit")) e.remove();
    let value = textOf(copy), behind = "";
    if (value === row.dataset.sample + "*") value = row.dataset.sample;
    const at = value.indexOf(" ± ");
    if (at >= 0 && isNumber.test(value.slice(0, at))) [value, behind] = [value.slice(0, at), value.slice(at + 3)];
    if (!behind && below.startsWith("±")) [behind, below] = [below.slice(1).trim(), ""];
    const note = [cell.dataset.note || cell.title, signs[flag]].filter(Boolean).join("; ");
    return [value === "–" ? "" : value, behind, below, note];
  };
  // Facing pages are laid side by side: name, unit, left page, right page, difference.
  const unfold = (cells) => {
    const n = (cells.length - 2) / 2;
    return [cells[0], ...cells.slice(1, n + 1).reverse(), ...cells.slice(n + 2), cells[n + 1]];
  };
  // The heads of the columns: what stands above them, the head, the line below
  // where two would read alike.
  const headsOf = (table, book) => {
    const rows = Array.from(table.tHead.rows, (r) => Array.from(r.cells));
    const last = rows.pop();
    let above = rows.length
      ? rows[0].flatMap((c) => Array(c.colSpan).fill(Array.from(c.childNodes).filter((n) => n.nodeType === 3).map((n) => n.data).join("").trim()))
      : last.map(() => "");
    let heads = last.map((th, i) => ({ group: above[i], name: textOf(th.querySelector(".head")) || "row", sub: textOf(th.querySelector(".sub")), unit: textOf(th.querySelector(".unit")) }));
    if (book) {
      heads = unfold(heads);
      heads.splice(1, 0, { group: "", name: "unit", sub: "", unit: "" });
    }
    for (const h of heads) if (h.group) h.name = `${h.group}: ${h.name}`;
    const alike = (a) => heads.filter((b) => b.first === a.first && b.unit === a.unit).length > 1;
    for (const h of heads) h.first = h.name;
    for (const h of heads) if (h.sub && alike(h)) h.name += `, ${h.sub}`;
    return heads;
  };
  const rowsOf = (table) => {
    const book = table.classList.contains("open-book");
    const signs = {};
    for (const p of table.closest(".sheet, .spread").querySelectorAll(".notes p")) {
      if (/^[†‡] /.test(p.textContent)) signs[p.textContent[0]] = p.textContent.slice(2);
    }
    const body = Array.from(table.tBodies[0].rows);
    const parts = body.map((row) => {
      const cells = Array.from(row.cells, (c) => partsOf(c, row, signs));
      if (!book) return cells;
      const unit = textOf(row.cells[0].querySelector(".unit"));
      return unfold(cells).toSpliced(1, 0, [unit, "", "", ""]);
    });
    const columns = [];
    const names = new Map();
    const add = (name, of) => {
      const n = (names.get(name) || 0) + 1;
      names.set(name, n);
      columns.push([n > 1 ? `${name} [${n}]` : name, of]);
    };
    const heads = headsOf(table, book);
    heads.forEach((h, i) => {
      const unit = h.unit ? ` (${h.unit})` : "";
      const alike = heads.filter((x) => x.name === h.name).length > 1;
      const [value, behind] = h.name.split(/ ± (.*)/s);
      const beside = alike ? value + unit : value;
      const group = h.group ? value.split(": ")[0] + ": " : "";
      const has = (part) => parts.some((row) => row[i][part]);
      add(value + unit, (n) => parts[n][i][0]);
      if (has(1)) add((behind === undefined ? `${value}_u` : group + behind) + unit, (n) => parts[n][i][1]);
      if (has(2)) add(`${beside}_below`, (n) => parts[n][i][2]);
      if (has(3)) add(`${beside}_note`, (n) => parts[n][i][3]);
      const side = (n) => ["fired", "dug"].find((s) => body[n].classList.contains(s)) || "";
      if (i === 0 && body.some((_, n) => side(n))) add("side", side);
    });
    return [columns.map((c) => c[0]), ...body.map((_, n) => columns.map((c) => c[1](n)))];
  };
  for (const table of document.querySelectorAll("main table.plain, main table.open-book")) {
    const button = make("button", { type: "button", className: "take", textContent: "csv" });
    button.setAttribute("aria-label", `${table.caption.querySelector("b").textContent} Save as csv`);
    button.addEventListener("click", async () => {
      if (packed.has(table.id)) await ready(table);
      const text = "\ufeff" + rowsOf(table).map((row) => row.map((cell) => quoted(inert(typed(cell)))).join(",")).join("\r\n") + "\r\n";
      const url = URL.createObjectURL(new Blob([text], { type: "text/csv" }));
      make("a", { href: url, download: `${table.id}.csv` }).click();
      setTimeout(() => URL.revokeObjectURL(url), 60_000);
    });
    (table.closest(".scroll") || table).after(button);
  }

  // --- picking a sample --------------------------------------------------

  // Tables and figures speak to each other through "sample-picked" on the
  // document, with {sample: name}, or an empty name when none is picked.
  let picked = "";
  const tell = (sample) => document.dispatchEvent(new CustomEvent("sample-picked", { detail: { sample } }));
  const badge = make("div", { id: "picked" });
  badge.setAttribute("role", "status");
  document.body.append(badge);

  const pickable = (row) => {
    const name = row.querySelector("th");
    if (!name) return;
    const button = make("button", { type: "button", className: "pick" });
    button.append(...Array.from(name.childNodes).filter((e) => e.nodeName !== "SMALL"));
    button.setAttribute("aria-pressed", String(row.dataset.sample === picked));
    name.prepend(button, " ");
    button.addEventListener("click", () => tell(row.dataset.sample === picked ? "" : row.dataset.sample));
  };

  document.addEventListener("sample-picked", (event) => {
    picked = (event.detail && event.detail.sample) || "";
    for (const e of document.querySelectorAll("[data-sample]")) {
      const on = picked !== "" && e.dataset.sample === picked;
      e.classList.toggle("picked", on);
      const button = e.querySelector(".pick");
      if (button) button.setAttribute("aria-pressed", String(on));
    }
    badge.replaceChildren();
    if (picked) {
      const clear = make("button", { type: "button" }, "let go");
      clear.addEventListener("click", () => tell(""));
      badge.append(make("span", {}, "Picked: ", make("b", {}, picked)), clear);
    }
  });

  // --- where a number comes from -----------------------------------------

  // Notes are title attributes; the script shows them on focus and touch too.
  // A table is one stop of the Tab key, the arrow keys go from note to note.
  const tip = make("div", { id: "tip", hidden: true });
  tip.setAttribute("role", "tooltip");
  document.body.append(tip);
  let owner = null;
  let timer = 0;

  const hide = () => {
    if (owner) owner.removeAttribute("aria-describedby");
    owner = null;
    tip.hidden = true;
  };
  const show = (cell) => {
    clearTimeout(timer);
    if (owner === cell) return;
    hide();
    owner = cell;
    tip.textContent = cell.dataset.note;
    tip.hidden = false;
    cell.setAttribute("aria-describedby", "tip");
    const at = cell.getBoundingClientRect();
    const box = tip.getBoundingClientRect();
    const left = Math.min(Math.max(at.left, 8), document.documentElement.clientWidth - box.width - 8);
    const above = at.top - box.height - 6;
    tip.style.left = `${left + scrollX}px`;
    tip.style.top = `${(above > 4 ? above : at.bottom + 6) + scrollY}px`;
  };
  const later = () => {
    clearTimeout(timer);
    timer = setTimeout(hide, 200);
  };
  tip.addEventListener("pointerenter", () => clearTimeout(timer));
  tip.addEventListener("pointerleave", later);
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") hide();
  });
  addEventListener("resize", hide);

  const moves = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowDown: [0, 1], ArrowUp: [0, -1] };
  const neighbour = (cell, [across, down]) => {
    let { cellIndex, parentElement: row } = cell;
    for (;;) {
      cellIndex += across;
      if (down) row = down > 0 ? row.nextElementSibling : row.previousElementSibling;
      const next = row && row.cells[cellIndex];
      if (!next || cellIndex < 0) return null;
      if (next.dataset.note !== undefined && !row.hidden) return next;
    }
  };

  const explain = (table, notes) => {
    let cells = Array.from(table.querySelectorAll("tbody :is(td, th)"));
    if (notes) cells.forEach((cell, i) => (cell.title = notes[i]));
    cells = cells.filter((cell) => cell.title);
    cells.forEach((cell, i) => {
      cell.dataset.note = cell.title;
      cell.removeAttribute("title");
      cell.tabIndex = i === 0 ? 0 : -1;
    });
    if (!cells.length) return;
    const noted = (event) => event.target.closest && event.target.closest("[data-note]");
    table.addEventListener("pointerover", (event) => {
      const cell = noted(event);
      if (cell) show(cell);
    });
    table.addEventListener("pointerout", (event) => {
      if (noted(event)) later();
    });
    table.addEventListener("focusin", (event) => {
      const cell = noted(event);
      if (cell) show(cell);
    });
    table.addEventListener("focusout", later);
    table.addEventListener("keydown", (event) => {
      const cell = noted(event);
      const move = moves[event.key];
      if (!cell || event.target !== cell || !move) return;
      event.preventDefault();
      const next = neighbour(cell, move);
      if (!next) return;
      cell.tabIndex = -1;
      next.tabIndex = 0;
      next.focus();
    });
  };

  // Tables whose notes are packed are large: what the script adds to their rows
  // is added when they come near.
  const dress = (table, notes) => {
    table.querySelectorAll("tr[data-sample]").forEach(pickable);
    explain(table, notes);
  };
  const packed = new Map(Array.from(document.querySelectorAll("[data-notes]"), (block) => [block.dataset.notes, block]));
  const coming = new Map();
  const ready = (table) => {
    if (packed.has(table.id) && !coming.has(table)) {
      coming.set(table, unpack(packed.get(table.id)).then((notes) => dress(table, notes), (error) => {
        console.error(`the notes of ${table.id} cannot be read:`, error);
        dress(table);
      }));
    }
    return coming.get(table);
  };
  const near = new IntersectionObserver((entries) => {
    for (const { isIntersecting, target: table } of entries) {
      if (!isIntersecting) continue;
      near.unobserve(table);
      ready(table);
    }
  }, { rootMargin: "800px" });
  for (const table of document.querySelectorAll("table")) {
    if (packed.has(table.id)) near.observe(table);
    else dress(table);
  }

  // --- print -------------------------------------------------------------

  // Long tables are printed whole, and are folded again afterwards.
  let folded = [];
  addEventListener("beforeprint", () => {
    hide();
    folded = Array.from(document.querySelectorAll("details:not([open])"));
    for (const d of folded) d.open = true;
  });
  addEventListener("afterprint", () => {
    for (const d of folded) d.open = false;
    folded = [];
  });
})();
