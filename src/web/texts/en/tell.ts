export const tellTexts = {
  next: '',
}
