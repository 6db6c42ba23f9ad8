/**
 * What is made of something and holds as long as that does: made at the first question, forgotten with what it was made of.
 */
export function remember<Of extends object, Made>(make: (of: Of) => Made): (of: Of) => Made {
  const known = new WeakMap<Of, { readonly made: Made }>();
  return (of) => {
    const found = known.get(of);
    if (found) return found.made;
    const made = make(of);
    known.set(of, { made });
    return made;
  };
}
