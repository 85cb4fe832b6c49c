// Lengths as they are typed and told in a sketch: read and written as the form itself does it.
// A length is a number in the unit of the job, inches or millimeters.
"use strict";

(() => {
  const MM_IN = 25.4;
  const IN_MM = { in: MM_IN, ft: 12 * MM_IN, mm: 1, cm: 10, m: 1000 };
  const MOST_MM = 12000 * MM_IN;
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
    let found = ONE.exec(text);
    if (found) {
      const unit = found[2] === undefined ? bare : NAMES.get(found[2]);
      const whole = unit === "in" || unit === "ft" || !found[1].includes("/");
      return unit && whole ? number(found[1]) * IN_MM[unit] : NaN;
    }
    found = FEET_INCHES.exec(text);
    if (found) {
      const ends = found[4] === undefined || NAMES.get(found[4]) === "in";
      return NAMES.get(found[2]) === "ft" && ends ? feetAndInches(Number(found[1]), number(found[3])) : NaN;
    }
    found = bare === "in" ? BARE.exec(text) : null;
    return found ? feetAndInches(Number(found[1]), number(found[2])) : NaN;
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
        const inches = [whole || !rest ? whole : "", rest ? `${rest}/${below}` : ""].filter((part) => part !== "");
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
    const found = parse(size, unit);
    return found === null || !below ? found : -found;
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
    parsePlace,
    words,
    accepted: (unit) => (unit === "in" ? '12\' 4 1/2", 148.5 or 3.76 m' : "3.76 m, 376 cm or 3760"),
    grid: (unit) => (unit === "in" ? 6 : 100),
    fine: (unit) => (unit === "in" ? 0.5 : 10),
  };
})();
