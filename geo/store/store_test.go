package store_test

import (
	"testing"

	"waterstrike/geo/store/storetest"
)

func TestBaseConforms(t *testing.T) {
	storetest.Suite(t, func(t testing.TB) storetest.Store { return newBase(t) })
}
