package account

import "fmt"

// Role is what a person may do; each role may do all that those before it may. The zero
// value is nobody, who may do nothing that is not open to all.
type Role uint8

// The roles.
const (
	Nobody  Role = iota
	Reader       // asks and reads
	Field        // also enters what was drilled and seen
	Planner      // also takes in files, plans, and makes links for outsiders
	Keeper       // also keeps the people and their rights
)

var roleNames = [...]string{"nobody", "reader", "field", "planner", "keeper"}

// String returns the name that the file and the forms use.
func (r Role) String() string {
	if int(r) >= len(roleNames) {
		return fmt.Sprintf("role(%d)", uint8(r))
	}
	return roleNames[r]
}

// Roles lists the roles that a person can have, the least first.
func Roles() []Role { return []Role{Reader, Field, Planner, Keeper} }

// ParseRole reads the name of a role that a person can have.
func ParseRole(name string) (Role, bool) {
	for _, r := range Roles() {
		if r.String() == name {
			return r, true
		}
	}
	return Nobody, false
}
