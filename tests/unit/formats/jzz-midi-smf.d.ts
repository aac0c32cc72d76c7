declare module 'jzz-midi-smf' {
  /** Gives `JZZ.MIDI` its reader of Standard MIDI Files. */
  const attach: (jzz: unknown) => void;
  export default attach;
}
