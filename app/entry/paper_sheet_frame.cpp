// SPDX-License-Identifier: GPL-3.0-or-later
// What stands round the rows of the paper sheet: the head, the headings, and the foot that says
// what the field takes and what the row would record.
#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/restyle.h"
#include "app/entry/paper_sheet_page.h"
#include "app/entry/sheet_row.h"
#include "app/shell/session.h"

#include <QApplication>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

#include <algorithm>

namespace keyround {

namespace {

constexpr int gridSpacing = 4;

} // namespace

QWidget *PaperSheetPage::buildHead()
{
    auto *head = new QWidget(this);
    auto *row = new QHBoxLayout(head);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(10);
    m_rounds->setObjectName(QStringLiteral("sheetRound"));
    m_rounds->setAccessibleName(tr("Round of the sheet"));
    m_rounds->setMinimumWidth(340);
    connect(m_rounds, &QComboBox::activated, this, [this](int index) {
        m_keeper.flush();
        if (m_keeper.state() == DraftKeeper::State::Failed) {
            m_rounds->setCurrentIndex(std::max(0, m_rounds->findData(m_desk.round().text())));
            return; // what is typed is on no disk so far
        }
        openRound(RoundId::fromText(m_rounds->itemData(index).toString()));
    });
    m_date->line()->setObjectName(QStringLiteral("sheetDate"));
    m_date->setMaximumWidth(360);
    m_kept->setObjectName(QStringLiteral("sheetKept"));
    row->addWidget(plainCaption(tr("Round")));
    row->addWidget(m_rounds);
    row->addWidget(plainCaption(tr("Day")));
    row->addWidget(m_date);
    row->addStretch(1);
    row->addWidget(m_kept);
    return head;
}

QWidget *PaperSheetPage::buildGrid()
{
    auto *box = new QWidget(this);
    auto *headings = new QHBoxLayout;
    headings->setContentsMargins(gridSpacing, 0, gridSpacing, 0);
    headings->setSpacing(gridSpacing);
    const auto &widths = sheetColumnWidths();
    for (std::size_t i = 0; i < widths.size(); ++i) {
        const QString words = i == 0                  ? tr("Row")
                              : i <= paperColumnCount ? wordFor(PaperColumn(i - 1))
                                                      : tr("What it records");
        auto *heading = plainCaption(words, QStringLiteral("entry"), box);
        if (widths.at(i) > 0) {
            heading->setFixedWidth(widths.at(i));
        }
        headings->addWidget(heading, widths.at(i) > 0 ? 0 : 1);
    }
    auto *rows = new QWidget(box);
    auto *column = new QVBoxLayout(rows);
    column->setContentsMargins(gridSpacing, 0, gridSpacing, 0);
    m_grid = new QGridLayout;
    m_grid->setSpacing(gridSpacing);
    m_grid->setColumnStretch(int(paperColumnCount) + 1, 1);
    column->addLayout(m_grid);
    column->addStretch(1);
    m_scroll = new QScrollArea(box);
    m_scroll->setWidget(rows);
    m_scroll->setWidgetResizable(true);
    m_scroll->setFrameShape(QFrame::NoFrame);
    m_scroll->setFocusPolicy(Qt::NoFocus);
    auto *all = new QVBoxLayout(box);
    all->setContentsMargins(0, 0, 0, 0);
    all->addLayout(headings);
    all->addWidget(m_scroll, 1);
    return box;
}

QWidget *PaperSheetPage::buildFoot()
{
    auto *foot = new QWidget(this);
    m_hint->setObjectName(QStringLiteral("sheetHint"));
    m_hint->setMinimumHeight(3 * fontMetrics().height());
    m_hint->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    m_record->setObjectName(QStringLiteral("sheetRecord"));
    m_record->setProperty("role", QStringLiteral("primary"));
    m_record->setMinimumWidth(220);
    connect(m_record, &QPushButton::clicked, this, [this] { m_isSummed ? record() : sumUp(); });
    m_drop->setObjectName(QStringLiteral("sheetDrop"));
    connect(m_drop, &QPushButton::clicked, this, &PaperSheetPage::dropAll);
    auto *buttons = new QVBoxLayout;
    buttons->addWidget(m_record);
    buttons->addWidget(m_drop);
    buttons->addStretch(1);
    auto *row = new QHBoxLayout(foot);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(16);
    row->addWidget(m_hint, 1);
    row->addLayout(buttons);
    return foot;
}

QString PaperSheetPage::hintOf(const SheetRow &row, PaperColumn column) const
{
    switch (column) {
    case PaperColumn::Number:
        return tr("The valve's number as it stands on the sheet.");
    case PaperColumn::Time:
        return tr("When the crew was there: 0815 or 8:15. Blank: not written.");
    case PaperColumn::Found:
    case PaperColumn::Left:
        return tr("o open, c closed, p and turns part open, n not seen.");
    case PaperColumn::Closing:
    case PaperColumn::Opening:
        return tr("Turns: 27, 26.5; pass after pass with +: 20+27. Blank: not turned.");
    case PaperColumn::Problems: {
        constexpr std::size_t shown = 8;
        const QString typed = row.edit(column)->text().section(QLatin1Char(','), -1);
        QStringList words;
        for (const ProblemChoice &choice : choicesFor(typed, m_desk.choices())) {
            if (std::size_t(words.size()) == shown) {
                words << tr("...");
                break;
            }
            words << choice.words;
        }
        return words.isEmpty() ? tr("No problem begins so. Remarks take any words.")
                               : tr("The beginning of a word is enough, parted by commas: %1")
                                     .arg(words.join(QStringLiteral("; ")));
    }
    case PaperColumn::Remarks:
        break;
    }
    return tr("Any words.");
}

void PaperSheetPage::refreshHint()
{
    const SheetRow *row = rowOf(QApplication::focusWidget());
    m_record->setText(m_isSummed ? tr("Record (Ctrl+Enter)") : tr("Sum up (Ctrl+Enter)"));
    m_drop->setText(m_dropAsked ? tr("Really drop it?") : tr("Drop what is typed"));
    if (m_isSummed) {
        const SheetSummary summary = m_desk.summary();
        m_hint->setText(summary.words());
        m_record->setEnabled(summary.sound > 0);
        restyle(m_hint, "role",
                summary.leftOther.isEmpty() ? QString() : QStringLiteral("caution"));
        return;
    }
    m_record->setEnabled(true);
    restyle(m_hint, "role", QString());
    if (row == nullptr) {
        return;
    }
    const CheckedSheetLine checked = m_desk.check(row->index());
    QStringList words{hintOf(*row, *row->columnOf(QApplication::focusWidget()))};
    if (checked.valve) {
        words << tr("Valve %1: %2; %3; normally %4; closes %5.")
                     .arg(checked.valve->number,
                          checked.valve->address.isEmpty() ? tr("no address")
                                                           : checked.valve->address.left(80),
                          wordsFor(checked.judgement.baseline), wordFor(checked.valve->normally),
                          wordFor(checked.valve->closes));
    }
    if (const QString advice = adviceFor(checked.judgement); !advice.isEmpty()) {
        words << advice;
    }
    m_hint->setText(words.join(QLatin1Char('\n')));
}

void PaperSheetPage::refreshKept()
{
    switch (m_keeper.state()) {
    case DraftKeeper::State::Nothing:
        m_kept->setText(tr("Nothing new typed"));
        break;
    case DraftKeeper::State::Saving:
        m_kept->setText(tr("Keeping..."));
        break;
    case DraftKeeper::State::Saved:
        m_kept->setText(tr("Kept on disk"));
        break;
    case DraftKeeper::State::Failed:
        m_kept->setText(tr("NOT KEPT: tried again every 2 seconds"));
        break;
    }
    restyle(m_kept, "role",
            m_keeper.state() == DraftKeeper::State::Failed ? QStringLiteral("danger")
                                                           : QStringLiteral("quiet"));
}

} // namespace keyround
