import classes from './key-cap.module.css'

/** The name of a key, drawn as one. */
export function KeyCap({ children }: { readonly children: string }) {
  return <kbd className={classes.key}>{children}</kbd>
}
