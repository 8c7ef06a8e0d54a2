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
  const minus = /^[−-]\s*/;

  // --- sorting -----------------------------------------------------------

  // A cell sorts by its data-sort, else by its text without the small line
  // below it; numbers before text and empty cells last, whichever way round.
  const keyOf = (row, column) => {
    const cell = row.cells[column];
    const below = cell.querySelector(".below");
    const whole = (cell.querySelector(".name") || cell).textContent;
    const text = (below && cell.tagName === "TD" ? whole.slice(0, -below.textContent.length) : whole).trim();
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
    const texts = rows.map((row) => plain(row.textContent));
    const input = make("input", { type: "search", autocomplete: "off", spellcheck: false });
    const count = make("span", { className: "shown" });
    count.setAttribute("role", "status");
    const label = make("label", {}, "Show rows with ", input);
    sheet.prepend(make("div", { className: "filter" }, label, count));
    input.addEventListener("input", () => {
      const words = plain(input.value).split(/\s+/).filter(Boolean);
      let shown = 0;
      rows.forEach((row, i) => {
        row.hidden = !words.every((w) => texts[i].includes(w));
        if (!row.hidden) shown++;
      });
      count.textContent = words.length ? `${shown} of ${rows.length} rows` : "";
    });
  }

  // --- taking a table along ----------------------------------------------

  // A text that a spreadsheet program would run gets the apostrophe that such
  // programs hide; numbers keep their sign.
  const inert = (text) => {
    const plain = text.replace(minus, "-");
    if (/^-?\d+(\.\d+)?$/.test(plain)) return plain;
    return /^[=+\-@\t\r]/.test(text) ? "'" + text : text;
  };
  const quoted = (text) => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  // The parts of a cell: its text, the line below it.
  const partsOf = (cell) => {
    const below = cell.querySelector(".below");
    const copy = cell.cloneNode(true);
    for (const e of copy.querySelectorAll(".below, .shape")) e.remove();
    return [copy.textContent.trim(), below ? below.textContent.trim().replace(/^±\s*/, "") : ""];
  };
  // The rows of a table, heads with units first; a column with lines below its
  // values is followed by one that holds them.
  const rowsOf = (table) => {
    const heads = Array.from(table.tHead.rows[table.tHead.rows.length - 1].cells, (th) => {
      const piece = (name) => (th.querySelector(name) || { textContent: "" }).textContent.trim();
      const unit = piece(".unit");
      return piece(".head") + (unit ? ` (${unit})` : "");
    });
    const rows = Array.from(table.tBodies[0].rows, (row) => Array.from(row.cells, partsOf));
    const second = heads.map((_, i) => rows.some((row) => row[i] && row[i][1]));
    const spread = (row, of) => heads.flatMap((_, i) => (second[i] ? of(row, i) : of(row, i).slice(0, 1)));
    const uncertain = heads.map((_, i) => Array.from(table.tBodies[0].rows).some((row) => row.cells[i] && /^±/.test((row.cells[i].querySelector(".below") || { textContent: "" }).textContent)));
    return [spread(heads, (row, i) => [row[i], (uncertain[i] ? "± " : "below ") + row[i]])]
      .concat(rows.map((row) => spread(row, (r, i) => r[i] || ["", ""])));
  };
  for (const table of document.querySelectorAll("main table.plain, main table.open-book")) {
    const button = make("button", { type: "button", className: "take", textContent: "csv" });
    button.setAttribute("aria-label", `${table.caption.querySelector("b").textContent} Save as csv`);
    button.addEventListener("click", () => {
      const text = "\ufeff" + rowsOf(table).map((row) => row.map((cell) => quoted(inert(cell))).join(",")).join("\r\n") + "\r\n";
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

  for (const row of document.querySelectorAll("tr[data-sample]")) {
    const name = row.querySelector("th .name");
    if (!name) continue;
    const button = make("button", { type: "button", className: "pick" }, ...name.childNodes);
    button.setAttribute("aria-pressed", "false");
    name.append(button);
    button.addEventListener("click", () => tell(row.dataset.sample === picked ? "" : row.dataset.sample));
  }

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

  for (const table of document.querySelectorAll("table")) {
    const cells = table.querySelectorAll("td[title], th[title]");
    cells.forEach((cell, i) => {
      cell.dataset.note = cell.title;
      cell.removeAttribute("title");
      cell.tabIndex = i === 0 ? 0 : -1;
    });
    if (!cells.length) continue;
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
