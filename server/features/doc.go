// Package features serves records as features by OGC API - Features - Part 1: Core,
// version 1.0 (OGC 17-069r4), with GeoJSON, HTML and OpenAPI 3.0. It reads requests and
// writes documents; who may ask and by which protocol is the server's business.
//
// Collections come from a [Source]. Features are in a fixed order, so that pages joined
// together are the whole and none stands twice.
package features
