// SPDX-License-Identifier: GPL-3.0-or-later
// A lid that cannot be found: what was tried so far, and what came of it.
#pragma once

#include "app/truck/stop_form.h"

#include <QWidget>

class QKeyEvent;
class QLabel;

namespace keyround {

class BigButton;
class ToggleRow;

class SearchPanel final : public QWidget
{
    Q_OBJECT
public:
    explicit SearchPanel(QWidget *parent = nullptr);

    void show(const Valve &valve, const SearchRecord &search);
    [[nodiscard]] QWidget *firstField() const;
    bool takeKey(QKeyEvent *event);

Q_SIGNALS:
    void tried(const SearchRecord &search); ///< the record with what was pressed in it
    void ended(SearchOutcome outcome);

private:
    void buildOutcomes();

    SearchRecord m_search;
    QLabel *m_title;
    QLabel *m_help;
    ToggleRow *m_tries;
    BigButton *m_found;
    BigButton *m_paved;
    BigButton *m_notFound;
    BigButton *m_later;
};

} // namespace keyround
