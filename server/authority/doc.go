// Package authority is a certificate authority of this computer's own, so that devices in
// its network can talk to it by HTTPS without a name on the internet.
//
// The authority's certificate and key stand in one file that only its owner can read. The
// certificate is held to addresses of private networks and to names that no public
// authority vouches for (RFC 5280, section 4.2.1.10): a key that was stolen cannot stand
// in for a bank. Certificates of the server are made when they are asked for, last for a
// season, and are kept in memory alone.
package authority
