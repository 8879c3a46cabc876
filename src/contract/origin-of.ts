/**
 * Scheme, host and port of an address, as a content security policy names them: `https://tiles.example.org`. Null for anything but plain
 * http or https, and for hosts that could be read as more than one source.
 */
export function originOf(address: string): string | null {
  const [, scheme = '', host = '', port = ''] =
    /^(https?):\/\/([a-z0-9](?:[a-z0-9.-]*[a-z0-9])?)(:\d{1,5})?(?:[/?]|$)/i.exec(address) ?? []
  return host === '' ? null : `${scheme}://${host}${port}`.toLowerCase()
}
