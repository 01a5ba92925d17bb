/** Whether a file in a searched folder is taken for a log: any *.csv but the tables that `--format csv` and `corrections-csv` write. */
export function isLogName(name: string): boolean {
  return /(?<!(?:^|\.)(?:findings|corrections))\.csv$/i.test(name);
}
