// Package publish writes records for other programs, GeoJSON for maps, CSV for tables and
// a workbook for people, and reads all three back.
//
// Writers stream: a record is written as it is read, so memory does not grow with their
// number. The same records give the same bytes. A writer that fails leaves a file that
// is not whole: write beside the old file and rename.
//
// Names of columns and of GeoJSON properties are the same and carry their unit
// (depth_m); they are those of the tables in the knowledge base. What is not known is an
// empty cell in CSV and no member in GeoJSON. The parts of a record are properties in
// GeoJSON, in their own JSON, and tables of their own in CSV.
//
// [Read] brings all of it back but this: the batch of a record, because an import gives its
// own; bytes that are no UTF-8; the digits of shapes beyond the seventh, which a GeoPackage
// keeps ([Copy]); and in CSV a carriage return within words, which becomes a line feed. To
// add a field to a record, add its column: a test names the fields without one.
//
// GeoJSON follows RFC 7946: positions are longitude and latitude on WGS 84. Points are
// written as they are held, the lines of shapes to at most 7 decimals (1 cm). Heights are
// left out, because the third number of a position is a height above the ellipsoid and the
// records hold heights above sea level. Shapes that cross the antimeridian are written as
// they are stored, uncut.
//
// CSV follows RFC 4180: comma, CRLF, one header line, in UTF-8 without a byte order mark.
// Spreadsheets take a cell that begins with = + - or @ for a formula, and run it. So a
// cell of words that begins with one of these, with a tab, a line break or a single
// quote, gets one single quote in front; a program that reads the file takes one leading
// quote off a cell of words to have them as they were. Numbers are untouched.
package publish
