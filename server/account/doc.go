// Package account keeps who may use the program: people with their roles, one-time codes,
// signed-in sessions, links for outsiders, and the log of every change of these.
//
// All of it stands in one SQLite file of its own, accounts.db, so that the ground can be
// shared without giving away who works on it; nothing of the ground is in here. The SQL
// stands in this package alone. The file is readable by its owner only.
//
// # What is secret, and how it is kept
//
//	password       argon2id (RFC 9106) with a salt of its own
//	one-time code  80 random bits, SHA-256; gone once it is used
//	session        256 random bits, SHA-256 (by the session manager)
//	link           256 random bits, SHA-256
//
// A copy of the file therefore lets nobody in. Every code and link is shown once, to the
// person who asked for it, and is kept nowhere in clear.
//
// # Who can be found out
//
// [Book.SignIn] takes as long for a name that nobody has as for one that somebody has,
// gives the same answer, and slows both down alike. Checked by: TestSignInTakesEqualTime,
// TestThrottleTreatsAllNamesAlike.
package account
