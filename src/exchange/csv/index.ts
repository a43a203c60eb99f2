export { readTable, TableError, writeTable } from './table.ts';
