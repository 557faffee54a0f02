package browsertest

import "syscall"

// notWithoutUs lets a child end with the test that started it, however that ends: a
// browser that is left over holds whatever the test held.
func notWithoutUs() *syscall.SysProcAttr { return &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL} }
