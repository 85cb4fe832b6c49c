// Lengths as they are typed and told on the page of a room: read and written as the form does it.
// A length is a number in the unit of the job, inches or millimeters.
"use strict";

(() => {
  const MM_IN = 25.4;
  const IN_MM = { in: MM_IN, ft: 12 * MM_IN, mm: 1, cm: 10, m: 1000 };
  const MOST_MM = 12000 * MM_IN;
  const CLOSES_IN = 200; // as the server judges it
  const TAPES_IN = 500; // by more than one part in so many no good tape misses
  const CLOSES_WITHIN = { in: 0.5, mm: 13 };
  const NAMES = new Map([
    ["'", "ft"], ['"', "in"],
    ...["ft", "feet", "foot"].map((name) => [name, "ft"]),
    ...["in", "inch", "inches"].map((name) => [name, "in"]),
    ...["mm", "millimeter", "millimeters"].map((name) => [name, "mm"]),
    ...["cm", "centimeter", "centimeters"].map((name) => [name, "cm"]),
    ...["m", "meter", "meters", "metre", "metres"].map((name) => [name, "m"]),
  ]);
  const GLYPHS = new Map([
    ...[..."\u2032\u2019\u2018\u02b9\u00b4`"].map((sign) => [sign, "'"]),
    ...[..."\u2033\u201d\u201c\u02ba"].map((sign) => [sign, '"']),
    ...[..."\u2010\u2011\u2012\u2013\u2014\u2212"].map((sign) => [sign, "-"]),
    ["\u2044", "/"], ["½", " 1/2"], ["¼", " 1/4"], ["¾", " 3/4"],
    ["⅛", " 1/8"], ["⅜", " 3/8"], ["⅝", " 5/8"], ["⅞", " 7/8"],
  ]);
  const SMALL = "⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉";
  const GROUP = /[⁰¹²³⁴⁵⁶⁷⁸⁹]+[\u2044/][₀₁₂₃₄₅₆₇₈₉]+/g;

  const NUMBER = "(?:\\d+(?:\\s+|\\s*-\\s*)\\d+/\\d+|\\d+/\\d+|\\d+\\.?\\d*|\\.\\d+)";
  const ONE = new RegExp(`^(${NUMBER})\\s*(['"]|[a-z]+)?\\.?$`);
  const FEET_INCHES = new RegExp(`^(\\d+)\\s*('|[a-z]+)\\s*-?\\s*(${NUMBER})\\s*("|[a-z]+)?\\.?$`);
  const BARE = /^(\d+)(?:\s+|\s*-\s*)(\d+(?:(?:\s+|\s*-\s*)\d+\/\d+|\.\d+)?)$/;

  function plain(text) {
    const level = text.replace(GROUP, (group) => {
      const figures = [...group].map((sign) => (SMALL.includes(sign) ? SMALL.indexOf(sign) % 10 : "/"));
      return ` ${figures.join("")}`;
    });
    const signs = [...level].map((sign) => GLYPHS.get(sign) ?? sign).join("");
    return signs.replaceAll("''", '"').toLowerCase().split(/\s+/).filter(Boolean).join(" ");
  }

  // A number as written; NaN where its fraction is none of a tape.
  function number(text) {
    const slash = text.indexOf("/");
    if (slash < 0) return Number(text);
    const above = text.slice(0, slash).replace("-", " ").split(" ").filter(Boolean).map(Number);
    const top = above.pop();
    const bottom = Number(text.slice(slash + 1));
    if (bottom < 2 || bottom > 64 || (above.length && top >= bottom)) return NaN;
    return (above[0] ?? 0) + top / bottom;
  }

  function feetAndInches(feet, inches) {
    return inches < 12 ? (feet * 12 + inches) * MM_IN : NaN;
  }

  function readMm(text, bare) {
    const one = ONE.exec(text);
    if (one) {
      const [, figure, name] = one;
      const unit = name === undefined ? bare : NAMES.get(name);
      const whole = unit === "in" || unit === "ft" || !figure.includes("/");
      return unit && whole ? number(figure) * IN_MM[unit] : NaN;
    }
    const two = FEET_INCHES.exec(text);
    if (two) {
      const [, feet, first, inches, second] = two;
      const ends = second === undefined || NAMES.get(second) === "in";
      return NAMES.get(first) === "ft" && ends ? feetAndInches(Number(feet), number(inches)) : NaN;
    }
    const plainPair = bare === "in" ? BARE.exec(text) : null;
    return plainPair ? feetAndInches(Number(plainPair[1]), number(plainPair[2])) : NaN;
  }

  // The length that was typed, in `unit`, which is also that of a bare number; null where it is none.
  function parse(text, unit) {
    const typed = plain(text);
    const mm = typed.length > 40 ? NaN : readMm(typed, unit);
    return mm > 0 && mm <= MOST_MM + 1e-6 ? mm / IN_MM[unit] : null;
  }

  const trimmed = (value, places) => String(Number(value.toFixed(places)));

  function imperial(value) {
    for (const below of [1, 2, 4, 8, 16, 32, 64]) {
      const parts = Math.round(value * below);
      if (Math.abs(value * below - parts) < 1e-4 * below) {
        const feet = Math.floor(parts / (12 * below));
        const whole = Math.floor((parts % (12 * below)) / below);
        const rest = parts % below;
        const inches = [whole || feet || !rest ? whole : "", rest ? `${rest}/${below}` : ""].filter((part) => part !== "");
        if (!feet) return `${inches.join(" ")}"`;
        return whole || rest ? `${feet}' ${inches.join(" ")}"` : `${feet}'`;
      }
    }
    const rounded = Number(value.toFixed(3));
    const feet = Math.floor(rounded / 12);
    const inches = `${trimmed(rounded - feet * 12, 3)}"`;
    return feet ? `${feet}' ${inches}` : inches;
  }

  // Where something stands may also be at nothing, or on the other side of the first corner.
  function parsePlace(text, unit) {
    const below = /^\s*[-\u2010-\u2014\u2212]/.test(text);
    const size = below ? text.trim().slice(1) : text;
    if (size.trim() === "0") return 0;
    const length = parse(size, unit);
    return length === null || !below ? length : -length;
  }

  // How a length is told and typed: 12' 4 1/2" or 3.765 m; a computed one to a thousandth of an inch.
  function words(value, unit) {
    if (Math.abs(value) < 1e-4) return "0";
    if (value < 0) return `-${words(-value, unit)}`;
    return unit === "in" ? imperial(value) : `${trimmed(value / 1000, 4)} m`;
  }

  const sketch = (window.rowbookSketch ??= {});
  sketch.lengths = {
    parse,
    convert: (value, from, to) => (value * IN_MM[from]) / IN_MM[to],
    // By how much a walk may miss its first corner and is closed.
    closesWithin: (walked, unit) => Math.max(walked / CLOSES_IN, CLOSES_WITHIN[unit]),
    tapesMiss: (walked) => walked / TAPES_IN,
    parsePlace,
    words,
    accepted: (unit) => (unit === "in" ? '12\' 4 1/2", 148.5 or 3.76 m' : "3.76 m, 376 cm or 3760"),
    grid: (unit) => (unit === "in" ? 6 : 100),
    fine: (unit) => (unit === "in" ? 0.5 : 10),
  };
})();
