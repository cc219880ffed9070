package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/netip"
	"os"
	"os/exec"
	"os/signal"
	"runtime"
	"syscall"

	"github.com/spf13/cobra"

	"jetwright/notice"
	"jetwright/web"
)

func (c *command) serveCommand() *cobra.Command {
	var listen string
	var open bool
	cmd := &cobra.Command{
		Use: "serve [FOLDER]", Short: "the page on this computer", Args: cobra.MaximumNArgs(1),
		Long: "serve opens the bench book in the browser on this computer: the drive, drawn, with every watt, its limits, the\n" +
			"bench days, the reckoning and the heat. It ends with Ctrl-C. Nothing leaves this computer unless --listen names\n" +
			"an address beyond it; then the page asks for the token in the address that is printed.",
		Example: "  jetwright serve sled\n  jetwright serve sled --open\n  jetwright serve sled --listen 192.168.1.20:7070",
		RunE: func(_ *cobra.Command, args []string) error {
			manyStates()
			return c.serve(folder(args), listen, open)
		},
	}
	cmd.Flags().StringVar(&listen, "listen", "127.0.0.1:0", "address and port; port 0 takes one that is free")
	cmd.Flags().BoolVar(&open, "open", false, "open the page in the browser")
	return cmd
}

func (c *command) serve(folder, listen string, open bool) error {
	fail := func(what, allowed, out string) error {
		return notice.List{{Kind: notice.Error, What: what, Allowed: allowed, WayOut: out}}
	}
	host, _, err := net.SplitHostPort(listen)
	if err != nil {
		return fail(fmt.Sprintf("--listen %q is no address", listen), "an address and a port, such as 127.0.0.1:7070", "")
	}
	ip, err := netip.ParseAddr(host)
	if host == "localhost" {
		ip, err = netip.MustParseAddr("127.0.0.1"), nil
	}
	if err != nil || ip.IsUnspecified() {
		return fail(fmt.Sprintf("--listen %q does not say which address of this computer", listen), "one address, such as 127.0.0.1:7070 or 192.168.1.20:7070",
			"name the address that the other computer reaches this one by")
	}
	l, err := net.Listen("tcp", listen)
	if err != nil {
		var sys *os.SyscallError
		why := err.Error()
		if errors.As(err, &sys) {
			why = sys.Err.Error()
		}
		return fail(fmt.Sprintf("it cannot listen on %s: %s", listen, why), "", "take another port, or port 0 for one that is free")
	}
	defer l.Close()
	o := web.Options{Hosts: web.HostsOf(l.Addr())}
	address := "http://" + l.Addr().String() + "/"
	if !ip.IsLoopback() {
		o.Token = web.Token()
		address += "?token=" + o.Token
	}
	s, err := web.New(folder, o)
	if err != nil {
		return err
	}
	defer s.Close()
	fmt.Fprintf(c.out, "the page of %s is at %s\nit ends with Ctrl-C\n", folder, address)
	if !ip.IsLoopback() {
		fmt.Fprintln(c.errs, "warning: it is reached from other computers, unencrypted; whoever has this address can change the folder")
	}
	if open {
		if err := browse(address); err != nil {
			fmt.Fprintf(c.errs, "the browser could not be opened (%v); open the address by hand\n", err)
		}
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	go func() {
		<-ctx.Done()
		_ = l.Close()
	}()
	return web.Serve(l, s)
}

// browse opens an address in the browser.
func browse(address string) error {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	return exec.Command(name, args...).Start()
}
