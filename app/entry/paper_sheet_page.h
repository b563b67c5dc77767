// SPDX-License-Identifier: GPL-3.0-or-later
// Typing in a day's paper sheet by keyboard alone. The columns are the route sheet's, in its order;
// Tab goes on, Enter goes to the next row, up and down stay in the column, Ctrl+Enter sums up and,
// pressed again, records. Every key stroke is on disk before the line at the head says "kept".
#pragma once

#include "app/dialogs/draft_keeper.h"
#include "app/entry/paper_sheet_desk.h"

#include <QWidget>

class QComboBox;
class QGridLayout;
class QLabel;
class QPushButton;
class QScrollArea;

namespace keyround {

class CheckedLine;
class SheetRow;

class PaperSheetPage final : public QWidget
{
    Q_OBJECT
public:
    PaperSheetPage(Session &session, const RoundId &round, QWidget *parent = nullptr);

    ~PaperSheetPage() override;

    /// Opens the page as a window beside `owner`, or brings the open one to the front.
    static PaperSheetPage *openBeside(QWidget *owner, Session &session, const RoundId &round);

    [[nodiscard]] const PaperSheetDesk &desk() const { return m_desk; }

protected:
    void closeEvent(QCloseEvent *event) override;
    bool eventFilter(QObject *watched, QEvent *event) override;

private:
    [[nodiscard]] QWidget *buildHead();
    [[nodiscard]] QWidget *buildGrid();
    [[nodiscard]] QWidget *buildFoot();
    void openRound(const RoundId &round);
    void fillRounds(const RoundId &chosen);
    void showLines();
    void addRows();
    void edited(std::size_t row, PaperColumn column, const QString &text);
    void focusMoved(QWidget *before, QWidget *now);
    void leave(SheetRow *row, PaperColumn column);
    void refreshRow(std::size_t row, bool all);
    void refreshHint();
    [[nodiscard]] QString hintOf(const SheetRow &row, PaperColumn column) const;
    void refreshKept();
    [[nodiscard]] bool handleKey(SheetRow *row, PaperColumn column, QKeyEvent *key);
    void goTo(std::size_t row, std::optional<PaperColumn> column);
    void sumUp();
    void record();
    void dropAll();
    [[nodiscard]] SheetRow *rowOf(const QObject *widget) const;

    Session &m_session;
    PaperSheetDesk m_desk;
    DraftKeeper m_keeper;
    QComboBox *m_rounds;
    CheckedLine *m_date;
    QLabel *m_kept;
    QScrollArea *m_scroll = nullptr;
    QGridLayout *m_grid = nullptr;
    std::vector<SheetRow *> m_rows;
    std::vector<bool> m_wasLeft; ///< rows whose refusals are shown
    QLabel *m_hint;
    QPushButton *m_record;
    QPushButton *m_drop;
    bool m_isSummed = false;
    bool m_dropAsked = false;
};

} // namespace keyround
