// The numbers of a block as rows of text, to be taken into a spreadsheet: with
// their units, a plain hyphen for minus, and no more digits than are shown.

import type { Axis, Chart, Field, Figures, Map as Chartlet, Matrix, Table } from "../lib/types";

const plain = (value: number | undefined, places: number) => {
  if (value === undefined || !Number.isFinite(value)) return "";
  const words = value.toFixed(Math.max(0, Math.min(12, places)));
  return Number(words) === 0 ? words.replace("-", "") : words;
};
const named = (name: string, unit?: string) => (unit ? `${name} (${unit})` : name);
/** Points of a curve may lie closer than its axis is marked. */
const fine = (value: number | undefined, axis: Axis) => (value === undefined ? "" : plain(Number(value.toPrecision(6)), Math.max(axis.places, Number.isInteger(value) ? 0 : axis.places + 1)));

export function ofFigures(figures: Figures): string[][] {
  const rows = (figures.rows ?? []).map((r) => [r.name, r.text || plain(r.value, r.places), r.text ? "" : (r.unit ?? ""), r.spread ? plain(r.spread, r.places) : ""]);
  return [["name", "value", "unit", "give or take"], ...rows];
}

export function ofTable(table: Table): string[][] {
  const columns = table.columns ?? [];
  const rows = (table.rows ?? []).map((row) =>
    columns.map((column, i) => {
      const cell = row?.[i];
      if (!cell || cell.empty) return "";
      return column.text || cell.text ? (cell.text ?? "") : plain(cell.value, column.places);
    }),
  );
  return [columns.map((c) => named(c.name, c.unit)), ...rows];
}

export function ofChart(chart: Chart): string[][] {
  const series = chart.series ?? [];
  const all = [...new Set(series.flatMap((s) => s.x ?? []))].sort((a, b) => a - b);
  const held = series.map((s) => new Map((s.x ?? []).map((x, i) => [x, s.y?.[i]])));
  return [
    [named(chart.x.name, chart.x.unit), ...series.map((s) => named(s.name, chart.y.unit))],
    ...all.map((x) => [fine(x, chart.x), ...held.map((m) => fine(m.get(x), chart.y))]),
  ];
}

export function ofField(field: Field): string[][] {
  const { x, y, z } = field;
  return [
    [`${named(z.name, z.unit)}: ${named(y.name, y.unit)} down, ${named(x.name, x.unit)} across`, ...(field.xs ?? []).map((v) => fine(v, x))],
    ...(field.ys ?? []).map((v, j) => [fine(v, y), ...(field.values?.[j] ?? []).map((w) => plain(w, z.places))]),
  ];
}

export function ofMatrix(matrix: Matrix): string[][] {
  const word = new Map((matrix.key ?? []).map((k) => [k.standing, k.text]));
  return [
    ["", ...(matrix.columns ?? []).map((c) => [c.group, c.name].filter(Boolean).join(" ") + (matrix.unit ? ` (${matrix.unit})` : ""))],
    ...(matrix.rows ?? []).map((row, j) => [
      [row.group, row.name].filter(Boolean).join("; "),
      ...(matrix.cells?.[j] ?? []).map((spot) => (spot.standing === "none" ? "" : spot.untold ? (word.get(spot.standing) ?? "") : plain(spot.value, matrix.places))),
    ]),
  ];
}

/** Where the boats are by day, in words; the tracks' places are not told, since on a map they are no numbers that mean anything. */
export function ofMap(map: Chartlet): string[][] {
  return [["day", "where the boats are"], ...(map.days ?? []).flatMap((d) => (d.said ? [[String(d.day), d.said]] : []))];
}
