package intake

import (
	"waterstrike/geo"

	"github.com/google/uuid"
)

// The id of a record is the UUID version 5 (RFC 9562) of its key in its data set's own
// namespace, so that the same file read twice, here or in another office, gives the
// same ids.

// BoreID returns the id of the bore with that key in the data set.
func BoreID(dataset, key string) geo.BoreID {
	return geo.BoreID(recordID(dataset, "bore", key).String())
}

// VillageID returns the id of the village with that key in the data set.
func VillageID(dataset, key string) geo.VillageID {
	return geo.VillageID(recordID(dataset, "village", key).String())
}

// WaterPointID returns the id of the water point with that key in the data set.
func WaterPointID(dataset, key string) geo.WaterPointID {
	return geo.WaterPointID(recordID(dataset, "water-point", key).String())
}

func recordID(dataset, kind, key string) uuid.UUID {
	namespace := uuid.NewSHA1(uuid.NameSpaceOID, []byte("dataset/"+dataset+"/"+kind))
	return uuid.NewSHA1(namespace, []byte(key))
}
