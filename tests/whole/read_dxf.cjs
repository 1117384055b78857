// What two JavaScript parsers find in a DXF, as JSON on standard output. Run by test_readers_javascript.py.
const fs = require("fs");
const text = fs.readFileSync(process.argv[2], "utf8");

function numbers(value, path, bad) {
  if (typeof value === "number" && !Number.isFinite(value)) bad.push(path);
  else if (value && typeof value === "object")
    for (const key of Object.keys(value))
      if (key !== "layout") numbers(value[key], path + "/" + key, bad); // dxf takes a layout's name for a number
}

function counted(entities, inPaper) {
  const counts = {};
  for (const entity of entities) {
    if (inPaper(entity)) continue;
    const key = entity.type + "|" + entity.layer;
    counts[key] = (counts[key] || 0) + 1;
  }
  return counts;
}

function withDxfParser() {
  const loaded = require("dxf-parser");
  const Parser = loaded.DxfParser || loaded.default || loaded;
  const found = new Parser().parseSync(text);
  const bad = [];
  numbers(found.entities, "entities", bad);
  numbers(found.blocks, "blocks", bad);
  const dimensions = found.entities.filter((e) => e.type === "DIMENSION");
  const points = [];
  for (const e of found.entities)
    if (!e.inPaperSpace)
      for (const p of [...(e.vertices || []), e.position, e.startPoint].filter(Boolean)) points.push([p.x, p.y]);
  return {
    counts: counted(found.entities, (e) => e.inPaperSpace),
    bad,
    blocks: Object.keys(found.blocks),
    blockSizes: Object.fromEntries(Object.entries(found.blocks).map(([k, b]) => [k, (b.entities || []).length])),
    dimensionBlocks: dimensions.map((e) => e.block || null),
    dimensionTexts: dimensions.map((e) => [e.text || "", e.actualMeasurement]),
    inserts: [...new Set(found.entities.filter((e) => e.type === "INSERT").map((e) => e.name))],
    layers: Object.keys(found.tables.layer.layers),
    texts: found.entities.filter((e) => e.type === "TEXT" && !e.inPaperSpace).map((e) => e.text),
    points,
    header: found.header,
  };
}

function withDxf() {
  const dxf = require("dxf");
  const found = dxf.parseString(text);
  const bad = [];
  numbers(found.entities, "entities", bad);
  const expanded = dxf.denormalise(found);
  numbers(expanded, "denormalised", bad);
  return {
    counts: counted(found.entities, (e) => e.paperSpace),
    bad,
    attributes: found.entities.filter((e) => e.type === "ATTRIB").length,
    expanded: expanded.length,
    header: found.header,
  };
}

const reader = { "dxf-parser": withDxfParser, dxf: withDxf }[process.argv[3]];
fs.writeFileSync(1, JSON.stringify(reader()));
