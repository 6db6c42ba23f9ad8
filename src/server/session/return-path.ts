const elsewhere = '/';

/** Where to go after sign-in: the page asked for when it is one of ours, else the first page. */
export function returnPath(asked: string | undefined): string {
  if (!asked?.startsWith('/')) return elsewhere;
  const here = 'http://here.invalid';
  // Read as a browser would: it drops tabs and line ends, and takes a backslash for a stroke.
  if (!URL.canParse(asked, here)) return elsewhere;
  const { origin, pathname, search } = new URL(asked, here);
  const isOurs = origin === here && !pathname.startsWith('//') && pathname !== '/sign-in' && pathname !== '/sign-out';
  return isOurs ? `${pathname}${search}` : elsewhere;
}

/** The address of the sign-in page that leads back to a page. */
export function signInPath(to: string): string {
  const path = returnPath(to);
  return path === elsewhere ? '/sign-in' : `/sign-in?to=${encodeURIComponent(path)}`;
}
