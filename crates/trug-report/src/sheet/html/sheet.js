// What the page does where scripts run: it keeps what was ticked and typed, holds each weight against what the scale
// may read, counts what is left, and writes down what was done. It says nothing that the page did not bring along.
(() => {
  "use strict";

  // ------------------------------------------------------------------------------ decimals, exactly: digits and places

  // A digit of any script counts from the zero of its ten.
  const plainDigit = (character) => {
    let above = 0;
    const code = character.codePointAt(0);
    while (code > above && /^\p{Nd}$/u.test(String.fromCodePoint(code - above - 1))) above += 1;
    return String(above % 10);
  };

  // Nothing but digits and one decimal mark, the point, the comma or the Arabic one.
  const decimalOf = (text) => {
    const plain = text.trim().replace(/\p{Nd}/gu, plainDigit);
    const parts = /^(\d*)(?:[.,\u066b](\d*))?$/.exec(plain);
    if (!parts || parts[1] + (parts[2] || "") === "") return null;
    return { digits: BigInt(parts[1] + (parts[2] || "")), places: (parts[2] || "").length };
  };

  const isLess = (one, other) => {
    const places = Math.max(one.places, other.places);
    const raised = (it) => it.digits * 10n ** BigInt(places - it.places);
    return raised(one) < raised(other);
  };

  const times = (it, factor) => ({ digits: it.digits * BigInt(factor), places: it.places });

  // The unit is a power of ten grams.
  const inUnit = (grams, gramsPerUnit) => ({ digits: grams.digits, places: grams.places + String(gramsPerUnit).length - 1 });

  const written = (it) => {
    const digits = String(it.digits).padStart(it.places + 1, "0");
    const whole = digits.slice(0, digits.length - it.places);
    const part = digits.slice(digits.length - it.places).replace(/0+$/, "");
    return part === "" ? whole : whole + "." + part;
  };

  // ----------------------------------------------------------------------------------------------- what the browser keeps

  const kept = (key) => {
    try {
      const state = JSON.parse(window.localStorage.getItem(key) || "{}");
      return state && typeof state === "object" ? state : {};
    } catch (refused) {
      return {};
    }
  };

  const keep = (key, state) => {
    try {
      if (state) window.localStorage.setItem(key, JSON.stringify(state));
      else window.localStorage.removeItem(key);
      return true;
    } catch (refused) {
      return false;
    }
  };

  const canKeep = (key) => keep(key + "-try", {}) && keep(key + "-try", null);

  // --------------------------------------------------------------------------------------------------------- one weighing

  const rowOf = (element) => {
    const box = element.querySelector(".tick");
    const field = element.querySelector(".typed");
    const message = element.querySelector(".message");
    const facts = element.dataset;
    const gramsPerUnit = Number(facts.gramsPerUnit);
    const range = element.querySelector(".range").textContent;
    const outside = (words) => words.wordOutside.replace("{range}", () => range);
    const typed = () => (field.value.trim() === "" ? null : decimalOf(field.value));
    const isOutside = () => {
      const weight = typed();
      const from = decimalOf(facts.from);
      const to = decimalOf(facts.to);
      if (!weight || !from || !to) return false;
      const grams = times(weight, gramsPerUnit);
      return isLess(grams, from) || isLess(to, grams);
    };
    const isUnreadable = () => field.value.trim() !== "" && !typed();
    const isDone = () => !isUnreadable() && (box.checked || (typed() !== null && !isOutside()));
    const show = (words) => {
      const says = isUnreadable() ? words.wordUnreadable : isOutside() ? outside(words) : "";
      if (message.textContent !== says) message.textContent = says;
      field.setAttribute("aria-invalid", String(says !== ""));
      element.classList.toggle("is-wrong", says !== "");
      element.classList.toggle("is-done", isDone());
    };
    const amount = (weight) => `${facts.ingredient} ${written(weight)} ${facts.unit}` + (facts.lot ? ` lot ${facts.lot}` : "");
    const line = (words) => {
      const planned = amount(inUnit(decimalOf(facts.mass) || { digits: 0n, places: 0 }, gramsPerUnit));
      if (isUnreadable()) return `  # ${words.wordNotWeighed}: ${planned}  # ${words.wordUnreadable}: ${oneLine(field.value)}`;
      if (typed()) return `  weighed        ${amount(typed())}` + (isOutside() ? `  # ${oneLine(outside(words))}` : "");
      if (box.checked) return `  weighed        ${planned}  # ${words.wordOnlyTicked}`;
      return `  # ${words.wordNotWeighed}: ${planned}`;
    };
    return { id: facts.weighing, box, field, isDone, show, line };
  };

  // Whatever is typed or pasted stays on its line and turns nothing around.
  const oneLine = (text) => text.replace(/[\s\p{Cc}\p{Cs}\u2028-\u202e\u2066-\u2069\ufeff]+/gu, " ").trim();

  // ------------------------------------------------------------------------------------------------------------ one sheet

  const start = (sheet) => {
    const words = sheet.dataset;
    const part = (name) => sheet.querySelector(name);
    const rows = Array.from(sheet.querySelectorAll("[data-weighing]"), rowOf);
    const by = part(".by input");
    const day = part(".made input");
    const text = part("textarea.text");
    const left = part(".left");

    const show = () => {
      rows.forEach((row) => row.show(words));
      const open = rows.filter((row) => !row.isDone()).length;
      left.textContent = open === 0 ? words.wordAllDone : words.wordLeft.replace("{n}", String(open));
      left.classList.toggle("all-done", open === 0);
    };

    const remember = () => {
      const ticked = rows.filter((row) => row.box.checked).map((row) => row.id);
      const typed = rows.filter((row) => row.field.value !== "").map((row) => [row.id, row.field.value]);
      const isKept = keep(words.key, { ticked, typed, by: by.value, day: day.value });
      part(".not-kept").hidden = isKept;
      show();
    };

    const recall = () => {
      const state = kept(words.key);
      const ticked = Array.isArray(state.ticked) ? state.ticked : [];
      const typed = new Map(Array.isArray(state.typed) ? state.typed.filter(Array.isArray) : []);
      rows.forEach((row) => {
        row.box.checked = ticked.includes(row.id);
        row.field.value = typed.has(row.id) ? String(typed.get(row.id)) : "";
      });
      by.value = typeof state.by === "string" ? state.by : "";
      day.value = typeof state.day === "string" && state.day !== "" ? state.day : words.day;
      show();
    };

    const record = () => {
      const who = oneLine(by.value).replaceAll('"', '""');
      const made = /^\d{4}-\d\d-\d\d$/.test(day.value) ? day.value : words.day;
      return [
        `record ${words.record} of ${words.ration}`,
        `  made           ${made}` + (who === "" ? "" : ` by "${who}"`),
        `  batch          ${words.batch.replace(/\s/g, " ")}`,
        ...rows.map((row) => row.line(words)),
        "",
      ].join("\n");
    };

    const copy = async () => {
      text.value = record();
      text.hidden = false;
      text.select();
      let isCopied = false;
      try {
        await navigator.clipboard.writeText(text.value);
        isCopied = true;
      } catch (refused) {
        isCopied = document.execCommand("copy");
      }
      part(".copied").textContent = isCopied ? words.wordCopied : "";
    };

    const clear = () => {
      if (!window.confirm(words.wordClearSure)) return;
      keep(words.key, null);
      text.hidden = true;
      part(".copied").textContent = "";
      recall();
    };

    sheet.addEventListener("input", remember);
    sheet.addEventListener("change", remember);
    part("button.copy").addEventListener("click", copy);
    part("button.clear").addEventListener("click", clear);
    part("button.print").addEventListener("click", () => window.print());
    part(".not-kept").hidden = canKeep(words.key);
    part(".record").hidden = false;
    left.hidden = false;
    recall();
  };

  document.querySelectorAll("article.sheet").forEach(start);
})();
