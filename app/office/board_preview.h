// SPDX-License-Identifier: GPL-3.0-or-later
// The board report in the preview, with the year that it is about to choose.
#pragma once

#include "app/office/figure_desk.h"

class QWidget;

namespace keyround {

class PaperPreview;
class Session;

/// Of the valves of the scope's filter; its span is one more choice beside the years.
PaperPreview *openBoardPreview(QWidget *owner, Session &session, const FigureScope &scope);

} // namespace keyround
