/** Handles the submission of a form without loading the page anew. */
export function handleSubmit(act: (form: HTMLFormElement) => void): (event: { readonly currentTarget: HTMLFormElement; readonly preventDefault: () => void }) => void {
  return (event) => {
    event.preventDefault();
    act(event.currentTarget);
  };
}
