// Package server answers questions in a browser: a page for people, JSON for programs.
//
// # Routes
//
// Who may use which is the table in rights.go.
//
//	GET  /             the page to ask by position, village or map
//	GET  /advice       the same page with the answer
//	GET  /advice.json  the answer as data; its fields stand in server/sheet/advice.md
//	GET  /building     what goes with its plan: what to load, how to build, in which order
//	GET  /building.pdf the same for paper
//	GET  /sheets       the form for the advices of several points as one PDF; points fills it in
//	GET  /sheets.pdf   the PDF: points, one a line, positions or names of villages
//	GET  /map.svg      the map of what is known, square
//	GET  /map          the map; what it shows stands in its address
//	GET  /list         everything on the map as a list: ?of=bores, villages, points,
//	                   boundaries, rivers, roads or marks (places that others drew), page
//	GET  /spot         a short answer, part of a page; asked as /advice is
//	GET  /find.json    places by a position or a part of a name, q
//	GET  /section      the ground along a line from a to b, and the form for it
//	GET  /section.svg  its drawing; slim: for a phone
//	GET  /tiles/bores/:z/:x/:y     the bores of a tile (WebMercatorQuad) as a vector tile
//	GET  /tiles/places/:z/:x/:y    villages, water points, outlines, rivers, streams
//	GET  /tiles/contours/:z/:x/:y  contours
//	GET  /tiles/shade/:z/:x/:y     the land lit from the north-west, PNG
//	GET  /tiles/charts/:chart/:z/:x/:y  a map in pictures of the data folder, by number
//	GET  /surface.json the classes of a surface, of, in words and colours, the address of
//	                   its tiles, and how far they are: done of total steps; version rises
//	                   whenever a tile has become finer
//	GET  /tiles/surface/:of/:z/:x/:y  a surface (chance, design-low, refusal, each also
//	                   with -range, evidence) as PNG of 256 pixels in WebMercatorQuad,
//	                   as far as it is known, by ?method or the best; clear where it is not
//	GET  /trust        how the advice kept its word: taken in the background when first
//	                   asked for, then kept until the records change
//	GET  /trust.json   the same as data; 202 with {"asked", "total"} until it is taken
//	GET  /learnt       what the answers were learnt from, what each number means, what to
//	                   do where something is off
//	GET  /learnt.json  the same as data
//	GET  /pumping      what a pumping test tells: readings, the text of it, or what buckets or a
//	                   bailer and a watch told in fields of their own; kind where it does
//	                   not tell; the form where there is none
//	POST /pumping      the same for readings too long for an address; keeps nothing
//	GET  /pumping.json the same as data
//	GET  /pumping.pdf  the same for paper
//	GET  /bores/new              the form for a finished bore; at and place fill it in, id is that
//	                             which a log beside the hole has already
//	GET  /bores/:bore/edit       the same with what is known of the bore
//	GET  /bores/:bore            the record of one bore, drawn, with its history
//	GET  /bores/:bore/data.json  the same as data; its fields stand in server/sheet/record.md
//	POST /bores                  a finished bore or a correction of one; see below
//	POST /bores/check            what looks doubtful in one that is being written; keeps nothing
//	POST /bores/:bore/undo       puts back what was there before the change: seq
//	POST /bores/:bore/hide       takes it out of sight: reason. Nothing is erased
//	POST /bores/:bore/restore    brings it back: reason
//	GET  /choose       which villages for a season: the form, how far the work is, the
//	                   programme; its parameters are the fields of the form
//	GET  /choose.json  the same as data; 202 with {"asked", "total"} until it is worked out
//	GET  /choose.csv   the villages as a table, likewise
//	GET  /choose.pdf   what is chosen, for paper, likewise
//	POST /choose/stop  ends the work on a season, with the same parameters
//	GET  /served       what was achieved: standard, on (a day), tested
//	GET  /served.json  the same as data
//	GET  /served.pdf   the same for paper
//	GET  /served.html  the same as one page that needs no other file
//	GET  /features     the records as features by OGC API - Features 1.0: the landing page; a
//	                   GIS may send name and password with each request (RFC 7617), here alone
//	GET  /features/api          the interface described by OpenAPI 3.0
//	GET  /features/conformance  the classes of the standard that are met
//	GET  /features/collections  what there is: bores, layers, villages, water points, the
//	                   advice over the region by squares
//	GET  /features/collections/:collection  one of these
//	GET  /features/collections/:collection/items  its features: limit, offset, bbox, datetime, any property; f or Accept for GeoJSON or a page
//	GET  /features/collections/:collection/items/:feature  one feature
//	GET  /hole         beside an open hole: the log metre by metre with the odds after each, on
//	                   a phone that needs no network once it has the page and the pack
//	GET  /hole/pack.json  all that the records say of one site, for there; its fields stand
//	                   in advisor/livehole/fields.md
//	GET  /hole/keeper.js  the worker that keeps the page on the phone
//	GET  /sitings/new            the form of a siting visit; at and place fill it in
//	POST /sitings                a siting visit, as that form sends it; sent again it adds nothing
//	GET  /sitings/:siting        what a visit found, with its history
//	GET  /sitings/:siting/edit   the form with what was found
//	POST /sitings/:siting/undo     puts back what was there before the change: seq
//	POST /sitings/:siting/hide     takes it out of sight with its dug wells: reason
//	POST /sitings/:siting/restore  brings them back: reason
//	GET  /intake       where files are handed in, what waits of them, what was taken in
//	POST /intake       files, several parts of multipart/form-data; goes on to the next
//	GET  /intake/:arrival              what was handed in together, at the step where it
//	                                   stands; ?issue, severity and from pick rows of a
//	                                   draft, ?show=matching goes back to the columns
//	GET  /intake/:arrival/mapping.json what the columns are taken for, as a mapping file
//	POST /intake/:arrival/look         looks at the files again where that failed
//	POST /intake/:arrival/match        what a person decided; do=read reads the files too
//	POST /intake/:arrival/apply        takes the draft into the base; file-wins=yes over
//	                                   what was changed by hand
//	POST /intake/:arrival/discard      throws the files away
//	POST /intake/imports/:import/take-back  undoes a whole import
//	GET  /health       whether the program answers; to readers also its version and state
//	GET  /static/*     style sheets, scripts and signs
//
// Where people sign in also:
//
//	GET  /sign-in      the form; ?next is where to go on to
//	POST /sign-in      name, password
//	POST /sign-out     ends the session
//	GET  /begin        the form for the first keeper, until there is one
//	POST /begin        code, name, new-password
//	GET  /join         the form for a one-time code
//	POST /join         code, new-password
//	GET  /me           one's own access
//	POST /me           password, new-password
//	GET  /people       everybody, and the log of changes
//	POST /people       invites: name, role; answers with the one-time code
//	POST /people/:person/role     role
//	POST /people/:person/code     answers with a new one-time code
//	POST /people/:person/shut     ends a person's access
//	POST /people/:person/readmit  gives it back
//	GET  /shares       links for outsiders
//	POST /shares       makes one: label, days, blur; answers with its address
//	POST /shares/:share/withdraw  ends one
//	GET  /shared/:token           what a link shows: coverage
//	GET  /shared/:token/map.svg   its map
//	GET  /shared/:token/features  the same for a GIS, with all that /features has below it:
//	                   bores with outcome and day, where the link says so by squares alone
//	GET  /shared/:token/features/api  the interface described by OpenAPI 3.0, and so on
//	GET  /shared/:token/features/conformance  see /features/conformance
//	GET  /shared/:token/features/collections  see /features/collections
//	GET  /shared/:token/features/collections/:collection  one of these
//	GET  /shared/:token/features/collections/:collection/items  its features
//	GET  /shared/:token/features/collections/:collection/items/:feature  one feature
//
// Where others in the network are served, these by HTTP too, to a device that does not
// trust this computer yet:
//
//	GET  /phone          how a device learns to trust this computer
//	GET  /authority.crt  the certificate to trust
//
// HEAD is answered wherever GET is.
//
// # A question
//
// A point is given in one of these ways; the first that is there counts:
//
//	at       a position in one text: degrees in any usual form, or UTM
//	lat, lon a position in two texts
//	village  the name of a village, a part of it, or its id
//	s.x, s.y a click on the map of 320 pixels
//	l.x, l.y a click on the map of 560 pixels; redirected to lat and lon
//
// And with any of them:
//
//	method   the code of the only drilling method at hand; all of the rules when not given
//	seed     of the random draws, a whole number; 1 when not given
//	lang     en, fr or pt; kept in a cookie. Else the cookie, else Accept-Language, else en
//	map      near: the map to ask by shows the surroundings of the point
//	around   centre of the map that was clicked, as "lat,lon"; the whole region when not given
//
// /map.svg takes px (the side, 320 or 560), around, site (a point to mark) and lang.
//
// # A finished bore
//
// POST /bores takes a body of application/json, half a megabyte at most:
//
//	{"bore": {...}, "at": "0.68N 0.01E", "since": 0, "why": ""}
//
// bore has the fields of [geo.Bore], lengths in metres below ground; a field that is not
// one of them is refused, because what it says would be lost. Its id is a UUID that the
// sender draws once for the hole. at is a position in words, for a bore without one. since
// is 0 for a new bore, and for a correction the seq that came with the version it began
// from; why is its reason. A layer without a confidence counts as sure. Where a record came
// from (batch, file, row) is set here; source.by, who said so, is taken.
//
// The answer comes once the bore is on the disk: 201, or 200 for a correction, with
//
//	{"id": "...", "seq": 12, "again": false, "address": "/bores/...", "issues": [{"severity", "code", "words"}]}
//
// The same bytes sent again are answered in the same way with again true, and add nothing,
// whatever became of the record since: a sender repeats them until it has an answer. 409
// says that somebody else has changed the record since; nothing was written. POST
// /bores/check takes the same body and answers {"issues": [...], "faults": [...]}: faults
// are fields of a form that cannot be read.
//
// Both take the form of /bores/new as well, as application/x-www-form-urlencoded: a row of
// a list is such as layer.0.base, and a row in which nothing is written is left out.
//
// # Some of the bores
//
// Tiles and lists of bores tell all of them, or those that are of any of the kinds named:
//
//	outcome, method  codes; each may stand several times
//	from, to         years of completion
//	least, most      drilled depth, m
//	box              for lists: west,south,east,north in degrees
//
// # Failures
//
// A page tells what is wrong in the reader's language. A program gets
// application/problem+json (RFC 9457) with type, title, status, detail and the extension
// member code, which does not change with the language. [errors.go] alone decides which
// status a kind of failure has.
package server
