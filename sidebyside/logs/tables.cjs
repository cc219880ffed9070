// Reads a table of numbers with DuckDB or Polars, and says how long it took, as JSON.
const [tool, path, repeats, threads] = [process.argv[2], process.argv[3], Number(process.argv[4]), process.argv[5]];

async function duckdb() {
  const { DuckDBInstance, version } = require("@duckdb/node-api");
  const db = await (await DuckDBInstance.create(":memory:", { threads })).connect();
  const seconds = [];
  for (let i = 0; i < repeats; i++) {
    await db.run("drop table if exists log");
    const begun = performance.now();
    await db.run(`create table log as select * from read_csv('${path}', header = true)`);
    seconds.push((performance.now() - begun) / 1000);
  }
  const columns = (await db.runAndReadAll("describe log")).getRows().map((r) => r[0]);
  const row = (await db.runAndReadAll("select count(*)::int, " + columns.map((c) => `avg("${c}")`).join(", ") + " from log")).getRows()[0];
  return { version: version(), seconds, rows: row[0], means: row.slice(1) };
}

function polars() {
  const pl = require("nodejs-polars");
  const seconds = [];
  let table;
  for (let i = 0; i < repeats; i++) {
    table = undefined;
    const begun = performance.now();
    table = pl.readCSV(path);
    seconds.push((performance.now() - begun) / 1000);
  }
  return { version: require("nodejs-polars/package.json").version, seconds, rows: table.height, means: table.columns.map((c) => table.getColumn(c).mean()) };
}

(async () => {
  const answer = tool === "duckdb" ? await duckdb() : polars();
  console.log(JSON.stringify({ ...answer, peak_bytes: 1024 * process.resourceUsage().maxRSS }));
})();
